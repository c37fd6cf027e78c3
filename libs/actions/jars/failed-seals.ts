import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import { wholePack } from '#libs/syrup/jars/fill-holds.js';
import { coversSpans, type JarSpan, jarsInSpans, mergeSpans, subtractSpans } from '#libs/syrup/jars/jar-spans.js';
import { isOffSale, isPackedAgain } from '#libs/syrup/free-text/short-answers.js';
import { clearsJars, isPackedAgainBy } from '../facts/pack-after-actions.js';

/** The jars of a pack whose seals failed and that were not packed again since. */
export interface FailedSeals {
  /** How many are off sale: by the count of the first lids, and by the counts of lids put on later. */
  readonly offSale: number;
  /** What was done with them, as recorded, without duplicates. */
  readonly outcomes: readonly string[];
  /** Those known by their numbers: every jar that the count was about failed. */
  readonly named: readonly JarSpan[];
}

/** A count of failed seals of some jars, or of a whole pack. */
interface SealCount {
  readonly jars: readonly JarSpan[];
  readonly failed: number;
  readonly outcome: string;
}

/**
 * What the counts of seals leave off sale. The pack’s own count and one of jars that were packed again are of different
 * lids, so both count; a count of some jars with the same lids may be part of the pack’s own, so the greater one counts.
 */
export function failedSeals(pack: PackBody, actions: readonly ActionBody[]): FailedSeals {
  const whole = wholePack(pack.jars ?? null);
  let firstLids: SealCount = { jars: whole, failed: pack.sealsFailed ?? 0, outcome: pack.sealsOutcome };
  let newLids: readonly SealCount[] = [];
  let packedAgain: readonly JarSpan[] = [];
  let named: readonly JarSpan[] = [];
  for (const action of actions) {
    const jars = action.jars?.all ? whole : (action.jars?.spans ?? []);
    if (jars.length > 0 && clearsJars(action) && isPackedAgainBy(action)) {
      packedAgain = mergeSpans([...packedAgain, ...jars]);
      newLids = newLids.filter((each) => !coversSpans(jars, each.jars));
      named = subtractSpans(named, jars);
      if (coversSpans(jars, whole)) firstLids = { ...firstLids, failed: 0 };
    }
    const count = { jars, failed: action.sealsFailed ?? 0, outcome: action.sealsOutcome };
    if (action.sealsFailed === undefined) continue;
    if (jars.length > 0 && clearsJars(action) && coversSpans(jars, whole)) [firstLids, newLids] = [count, []];
    else if (jars.length > 0 && coversSpans(packedAgain, jars))
      newLids = [...newLids.filter((each) => !coversSpans(jars, each.jars)), count];
    else if (count.failed > firstLids.failed) firstLids = count;
    if (count.failed > 0 && count.failed >= jarsInSpans(jars) && !isPackedAgain(count.outcome))
      named = mergeSpans([...named, ...jars]);
  }
  const counts = [firstLids, ...newLids].filter(
    ({ failed, outcome }) => failed > 0 && isOffSale(outcome) && !isPackedAgain(outcome),
  );
  return {
    offSale: counts.reduce((sum, { failed }) => sum + failed, 0),
    outcomes: [...new Set(counts.map(({ outcome }) => outcome.trim()))],
    named,
  };
}
