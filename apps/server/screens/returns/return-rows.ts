import { textIn, type SideBody } from '#libs/records/record-types.js';
import type { KeptRecord } from '#libs/store/queries/lots.js';
import { jarBackJudged, jarBackWords } from '#libs/reports/lot/returned-jar-text.js';
import { momentWords } from '../../text/times.js';

/** Jars of a lot that came back, newest first: what was said, what was seen, and what follows from it. */
export function cameBackRows(complaints: readonly KeptRecord<SideBody>[], now: string) {
  // A guest, an inspector, reads them too: they are part of the record.
  return [...complaints].reverse().map(({ id, body }) => cameBackRow(id, body, now));
}

export const cameBackRow = (id: string, body: SideBody, now: string) => ({
  id,
  when: momentWords(body.at, now),
  by: body.by,
  jar: textIn(body, 'jar'),
  lot: textIn(body, 'lot'),
  said: textIn(body, 'said'),
  seen: jarBackWords(body),
  done: textIn(body, 'done'),
  asks: jarBackJudged(body)?.asks ?? 'nothing',
});
