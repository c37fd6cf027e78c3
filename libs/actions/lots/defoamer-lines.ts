import type { LineBody } from '#libs/records/kinds/boil-line.js';
import { isNone } from '#libs/syrup/quantities/plain-answers.js';

/** What the log of a boil names beside its own record; where that names none, a line without a name says that one was used. */
export function defoamersInLog(own: string, lines: readonly { readonly body: LineBody }[]): string[] {
  const notes = lines.flatMap(({ body }) => (body.what === 'defoamer' ? [body.note.trim()] : []));
  if (isNone(own)) return notes.map((note) => note || 'used');
  return notes.filter((note) => note !== '' && note.toLowerCase() !== own.trim().toLowerCase());
}
