import { sealRecheck } from '#libs/actions/jars/seal-recheck.js';
import { actions } from '#libs/actions/kinds/corrective-action.js';
import { packsUnderway } from '#libs/actions/kinds/pack.js';
import { loadSugarhouseContext } from '#libs/actions/record/write-context.js';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import { recordWithPhoto } from '#libs/actions/photos/record-with-photo.js';
import type { Recorded } from '#libs/actions/record/record.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { postedFields } from '../../forms/posted-fields.js';
import { photoOf, writeContextOf, writeRecord } from '../../forms/write-record.js';
import { type Principal, readerOf } from '../../http/principal.js';

/** A count of the seals: the first one is stored in the pack; after repacking, it is that of the new lids. */
export async function checkSeals(principal: Principal, code: string, posted: Posted): Promise<Recorded | Refusal> {
  const again = await sealRecheck(readerOf(principal), code);
  if (!again) return writeRecord(principal, packsUnderway, posted, {}, { add: true, of: code });
  const context = writeContextOf(principal, posted);
  const { parseOptions: options } = await loadSugarhouseContext(principal.book.read, context);
  const { sealsFailed = '', sealsOutcome = '', sealsAt = '' } = postedFields(packsUnderway.fields, posted, options);
  const failed = firstText(posted['sealsFailed']).trim();
  if (failed === '') return invalid('sealsFailed', 'how many seals failed, 0 if none did', 'nothing');
  // Anyone who may check a pack's seals may check them again, though other corrective actions need a maker.
  const { sentence: _, ...recheck } = again;
  return recordWithPhoto(principal.book, context, {
    kind: actions,
    sent: {
      ...{ lot: code, ...recheck, sealsFailed, sealsOutcome, sealsAt, by: context.by },
      // Both are needed in a corrective action: the count itself, and what the person wrote of the jars that failed.
      found: `seals checked again: ${failed} failed`,
      done: sealsOutcome === '' ? 'seals checked again' : sealsOutcome,
    },
    photo: photoOf(principal, posted),
  });
}

/**
 * A count that is copied from paper needs its time: entered days later, one of jars that were still warm would pass for
 * one of cold jars.
 */
export const refuseUndatedSeals = (posted: Posted): Refusal | undefined =>
  firstText(posted['sealsFailed']) !== '' && firstText(posted['sealsAt']) === ''
    ? invalid('sealsAt', 'when the seals were counted, as on the sheet; if it isn’t there, count them again', 'nothing')
    : undefined;
