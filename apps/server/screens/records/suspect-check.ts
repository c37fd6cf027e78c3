import { instrumentInDoubt } from '#libs/actions/lots/suspect-lots.js';
import { momentIn } from '#libs/actions/record/times.js';
import type { CheckBody } from '#libs/records/record-types.js';
import type { KeptRecord } from '#libs/store/queries/lots.js';
import { checkedOf } from '#libs/store/queries/instrument-readings.js';
import { foundRight } from '#libs/syrup/instruments/instrument-checks.js';
import { formGround } from '../../forms/form-view.js';
import type { Visitor } from '../../http/principal.js';
import { doubtWords } from '../../text/suspect-text.js';
import { firstHundred } from '../../text/first-hundred.js';
import { momentWords } from '../../text/times.js';

/** Of a check that an instrument failed: the lots that it read since it was last right, and the way to call them back. */
export async function checkInDoubt(who: Visitor, { id, body }: KeptRecord<CheckBody>) {
  if (foundRight(checkedOf(id, body)) !== false) return undefined;
  const told = await instrumentInDoubt(who.book.read, who.desk.sugarhouse, { check: id });
  if ('problem' in told) return undefined;
  const { manner } = await formGround(who);
  const now = momentIn(manner.zone, who.desk.now);
  const recall = `/recall?check=${encodeURIComponent(id)}`;
  return {
    words: doubtWords(told, (ms) => momentWords(momentIn(manner.zone, new Date(ms)), now)),
    lots: firstHundred(told.lots, undefined, { address: recall, param: 'began', noun: 'lot' }),
    recall,
  };
}
