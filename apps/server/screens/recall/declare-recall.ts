import { recallLots } from '#libs/actions/lots/recall-lots.js';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import type { RecallNotes } from '#libs/actions/recall/recall-notes.js';
import { lookUpLot } from '#libs/actions/record/references.js';
import { allTexts, type Posted, typedOrPicked } from '../../forms/field-view.js';
import { writeContextOf } from '../../forms/write-record.js';
import type { Principal } from '../../http/principal.js';
import { many } from '../../text/amounts.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * Recalls the lots that the list began from, as shown on the page: all of them or none; the same form sent twice
 * recalls each once.
 */
export async function declareRecall(
  principal: Principal,
  posted: Posted,
): Promise<Refusal | { readonly query: string; readonly notes: readonly string[] }> {
  const context = writeContextOf(principal, posted);
  const codes = [...new Set(allTexts(posted['lot']))];
  const why = typedOrPicked(posted, 'why');
  if (codes.length === 0) return invalid('lot', 'a lot to recall', 'nothing');
  if (why === '') return invalid('why', 'the reason, in words', 'nothing');
  for (const code of codes)
    if (!(await lookUpLot(sugarhouseReader(principal.book.read, context.sugarhouse), code)))
      return invalid('lot', 'a lot of this book', `"${code}"`);
  const done = await recallLots(principal.book, context, codes, why, parseRecallNotes(posted));
  if ('problem' in done) return done;
  const note = `Recalled: ${many(codes.length, 'lot')} and all that their syrup went into. Now call these people.`;
  return {
    query: new URLSearchParams(codes.map((code): [string, string] => ['lot', code])).toString(),
    notes: [note],
  };
}

/** What a form recorded about a recall besides its reason. */
export const parseRecallNotes = (posted: Posted): RecallNotes => ({
  hazard: typedOrPicked(posted, 'hazard'),
  whoMayBeHurt: typedOrPicked(posted, 'whoMayBeHurt'),
  whatToDo: typedOrPicked(posted, 'whatToDo'),
});
