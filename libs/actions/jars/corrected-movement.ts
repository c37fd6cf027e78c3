import { utcOf } from '#libs/store/connection/instants.js';
import { hasMoved, type Movement, movementsOf } from '#libs/store/queries/trace.js';
import type { JudgingContext } from '../judging/judging-context.js';

/**
 * How many jars the dispatch that is being corrected has moved off the shelf: they are not counted against it. 0 for a
 * new one, a plan and jars returned; `counts` narrows down which movements count.
 */
export async function jarsOfCorrected(
  { sql, sugarhouse, houseContext }: JudgingContext,
  lot: string,
  id: string | undefined,
  counts: (movement: Movement) => boolean = ({ kind }) => kind !== 'returned',
): Promise<number> {
  if (id === undefined) return 0;
  const movement = (await movementsOf({ sql, sugarhouse }, [lot])).find((each) => each.id === id);
  return movement && hasMoved(movement, utcOf(houseContext.parseOptions.now)) && counts(movement) ? movement.jars : 0;
}
