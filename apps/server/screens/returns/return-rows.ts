import { textIn, type SupportingRecordBody } from '#libs/records/kinds/supporting-record.js';
import type { StoredRecord } from '#libs/store/queries/lots.js';
import { returnedJarJudged, returnedJarText } from '#libs/reports/lot/returned-jar-text.js';
import { momentText } from '../../text/times.js';

/** Returned jars of a lot, newest first: the complaint, what was observed, and the verdict. */
export function returnRows(complaints: readonly StoredRecord<'complaint'>[], now: string) {
  // Guests, who may be inspectors, see them too: they are part of the record.
  return [...complaints].reverse().map(({ id, body }) => returnRow(id, body, now));
}

/** A complaint as a row of the list of returns. */
export const returnRow = (id: string, body: SupportingRecordBody, now: string) => ({
  id,
  when: momentText(body.at, now),
  by: body.by,
  jar: textIn(body, 'jar'),
  lot: textIn(body, 'lot'),
  said: textIn(body, 'said'),
  seen: returnedJarText(body),
  done: textIn(body, 'done'),
  asks: returnedJarJudged(body)?.asks ?? 'nothing',
});
