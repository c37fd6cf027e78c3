import { suspectInstrument } from '#libs/actions/facts/suspect-lots.js';
import { momentIn } from '#libs/actions/record/times.js';
import type { StoredRecord } from '#libs/store/queries/lots.js';
import { checkedOf } from '#libs/store/queries/instrument-readings.js';
import { passedCheck } from '#libs/syrup/instruments/instrument-checks.js';
import { formContext } from '../../forms/form-view.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { suspectText } from '../../text/suspect-text.js';
import { pageOfRows } from '../../text/paged-rows.js';
import { momentText } from '../../text/times.js';

/** For a check that an instrument failed: the lots it read since its last good check, and a link to recall them. */
export async function suspectCheck(principal: Principal, { id, body }: StoredRecord<'check'>) {
  if (passedCheck(checkedOf(id, body)) !== false) return undefined;
  const view = await suspectInstrument(readerOf(principal), { check: id });
  if ('problem' in view) return undefined;
  const { parseOptions: options } = await formContext(principal);
  const now = momentIn(options.zone, principal.writeContext.now);
  const recall = `/recall?check=${encodeURIComponent(id)}`;
  return {
    text: suspectText(view, (ms) => momentText(momentIn(options.zone, new Date(ms)), now)),
    lots: pageOfRows(view.lots, undefined, { address: recall, param: 'began', noun: 'lot' }),
    recall,
  };
}
