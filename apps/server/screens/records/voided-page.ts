import { kindByName } from '#libs/actions/kinds/registry.js';
import { momentIn } from '#libs/actions/record/times.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { entriesOfRecord } from '#libs/store/log/history-of-record.js';
import { findEntry } from '#libs/store/log/log.js';
import { voidedBy } from '#libs/store/queries/voided.js';
import { formContext } from '../../forms/form-view.js';
import type { Principal } from '../../http/principal.js';
import { historyLinesOf } from '../../text/history.js';
import { clock, dayText } from '../../text/times.js';

/** A voided record as the log has it: who voided it, when and why. Undefined where there is no such record. */
export async function voidedPage(principal: Principal, kindName: RecordKind, id: string) {
  const { read } = principal.book;
  const { sugarhouse } = principal.writeContext;
  const seq = await voidedBy({ sql: read, sugarhouse }, kindName, id);
  const entry = seq === undefined ? undefined : await findEntry(read, seq);
  if (!entry) return undefined;
  const now = momentIn((await formContext(principal)).parseOptions.zone, principal.writeContext.now);
  const lot = entry.about.find((each) => each !== id);
  const noun = kindByName.get(kindName)?.noun ?? kindName;
  return {
    title: `${noun.charAt(0).toUpperCase()}${noun.slice(1)} ${id}`,
    here: 'find',
    lot,
    sentence: `This did not happen. Voided by ${entry.by}, ${dayText(entry.typedAt, now)} ${clock(entry.typedAt)}.`,
    why: entry.why,
    history: historyLinesOf(await entriesOfRecord({ sql: read, sugarhouse }, kindName, id), now).reverse(),
  };
}

/** The same for a lot of any kind. */
export async function voidedLotPage(principal: Principal, code: string) {
  for (const kind of ['boil', 'pack', 'gathering', 'receipt'] as const) {
    const view = await voidedPage(principal, kind, code);
    if (view) return view;
  }
  return undefined;
}
