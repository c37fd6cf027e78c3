import { sealsAgain } from '#libs/actions/lots/seals-again.js';
import { actions } from '#libs/actions/kinds/corrective-action.js';
import { packsUnderway } from '#libs/actions/kinds/pack.js';
import { loadSugarhouseContext } from '#libs/actions/record/write-context.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { recordWithPhoto } from '#libs/actions/photos/record-with-photo.js';
import type { Recorded } from '#libs/actions/record/record.js';
import type { Posted } from '../../forms/field-view.js';
import { postedFields } from '../../forms/posted-fields.js';
import { takenPhoto, writeContextOf, writeRecord } from '../../forms/write-record.js';
import { type Principal, readerOf } from '../../http/principal.js';

/** A count of the seals: the first one is the pack's own; after packing again it is that of the new lids. */
export async function checkSeals(principal: Principal, code: string, posted: Posted): Promise<Recorded | Refusal> {
  const again = await sealsAgain(readerOf(principal), code);
  if (!again) return writeRecord(principal, packsUnderway, posted, {}, { add: true, of: code });
  const context = writeContextOf(principal, posted);
  const { parseOptions: options } = await loadSugarhouseContext(principal.book.read, context);
  const { sealsFailed = '', sealsOutcome = '' } = postedFields(packsUnderway.fields, posted, options);
  // Who may check the seals of a pack may check them again, though a corrective action is otherwise a maker's.
  const { sentence: _, ...said } = again;
  return recordWithPhoto(principal.book, context, {
    kind: actions,
    sent: { lot: code, ...said, sealsFailed, sealsOutcome, by: context.by },
    photo: takenPhoto(principal, posted),
  });
}
