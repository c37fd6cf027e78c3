import { sealsAgain } from '#libs/actions/lots/seals-again.js';
import { actions } from '#libs/actions/kinds/corrective-action.js';
import { packsUnderway } from '#libs/actions/kinds/pack.js';
import { groundOf } from '#libs/actions/record/write-context.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { record, type Recorded } from '#libs/actions/record/record.js';
import type { Posted } from '../../forms/field-view.js';
import { postedTexts } from '../../forms/posted-texts.js';
import { deskOf, writeRecord } from '../../forms/write-record.js';
import type { Visitor } from '../../http/principal.js';

/** Seals that were looked at: the first count is the pack's own; after packing again it is that of the new lids. */
export async function checkSeals(who: Visitor, code: string, posted: Posted): Promise<Recorded | Refusal> {
  const again = await sealsAgain(who.book.read, who.desk.sugarhouse, code);
  if (!again) return writeRecord(who, packsUnderway, posted, {}, { add: true, of: code });
  const desk = deskOf(who, posted);
  const { manner } = await groundOf(who.book.read, desk);
  const { sealsFailed = '', sealsOutcome = '' } = postedTexts(packsUnderway.fields, posted, desk.now, manner.zone);
  // Who may check the seals of a pack may check them again, though a corrective action is otherwise a maker's.
  return record(who.book, desk, actions, { lot: code, ...again, sealsFailed, sealsOutcome, by: desk.by });
}
