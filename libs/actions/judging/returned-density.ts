import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import { recordsForJudging } from './records-for-judging.js';
import type { ReturnedJarJudged } from '#libs/syrup/contents/judge-complaint.js';
import { findingOf } from '#libs/syrup/rules/rules.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * A returned jar measured too thin is evidence against its lot, until the density is read again: that reading is judged
 * as any other. A jar that stood open and warm counts for itself alone.
 */
export async function thinReturnFindings(reader: SugarhouseReader, lot: string): Promise<Finding[]> {
  const about = await recordsForJudging(reader, lot);
  const readAgain = about('action')
    .filter(({ body }) => (body satisfies ActionBody).densityReading !== undefined)
    .map(({ firstSeq }) => firstSeq);
  return about('complaint').flatMap(({ id, body, firstSeq }) => {
    const judged = body['judged'] as ReturnedJarJudged | undefined;
    const thinReading = judged?.consequences.find((each) => each.about === 'density' && each.asks === 'hold');
    if (!thinReading || body['came'] === 'opened-warm' || readAgain.some((seq) => seq > firstSeq)) return [];
    return [
      findingOf('density-measure-again', {
        limit: 'a returned jar as dense as the place asks',
        found: `complaint ${id}: ${thinReading.found}`,
        source: thinReading.source,
        about: `complaint/${id}`,
        wayOut:
          'Read the density of a retained or another jar of it, and record it as a corrective action. If it passes, release the lot; if not, boil it further and pack again.',
      }),
    ];
  });
}
