/**
 * A request's path for the log: without its query, and without a guest's link in any encoding, since the link gives
 * access. Anything as long as a token is cut, so that a mistyped address doesn't reveal one either.
 */
export function loggedPath(url: string): string {
  const path = decoded(url.slice(0, maxLetters).split('?', 1)[0] ?? '');
  return path
    .replace(/(guest)[^a-z].*$/is, '$1/…')
    .replace(/[\w-]{32,}/g, '…')
    .replace(/[\p{C}\s]/gu, '?')
    .slice(0, 200);
}

const maxLetters = 2000;

/** Decodes once or several times; what can't be decoded any further stays as it is. */
function decoded(path: string): string {
  let text = path;
  for (let n = 0; n < 5 && text.includes('%'); n++)
    text = text.replace(/(?:%[0-9a-f]{2})+/gi, (bytes) =>
      Buffer.from(bytes.replaceAll('%', ''), 'hex').toString('utf8'),
    );
  return text;
}
