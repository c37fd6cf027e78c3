import type { LineBody } from '#libs/records/kinds/boil-line.js';
import { isNone } from '#libs/syrup/free-text/short-answers.js';

/**
 * Defoamers that the log of a boil names beyond its own record; where neither names one, a line without a name shows
 * that one was used.
 */
export function defoamersInLog(recorded: string, lines: readonly { readonly body: LineBody }[]): string[] {
  const notes = lines.flatMap(({ body }) => (body.what === 'defoamer' ? [body.note.trim()] : []));
  if (isNone(recorded)) return notes.map((note) => note || 'used');
  return notes.filter((note) => note !== '' && note.toLowerCase() !== recorded.trim().toLowerCase());
}
