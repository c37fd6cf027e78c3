import { balanceOf } from '#libs/store/queries/jar-balance.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { findRecord, type Lot } from '#libs/store/queries/lots.js';
import { isBulk } from '#libs/syrup/quantities/container.js';
import { formatSpans, type JarSpan, mergeSpans, overlapsSpans, subtractSpans } from '#libs/syrup/jars/jar-spans.js';
import { leastSealCoolingMs, sealsNotCounted } from '#libs/syrup/jars/judge-jars.js';
import { jarsOfCorrected } from './corrected-movement.js';
import type { JudgingContext } from '../judging/judging-context.js';
import { recordsForJudging } from '../judging/records-for-judging.js';
import { alreadyLeftHint } from './already-left-hint.js';
import type { JarsLeaving } from './jars-leaving.js';
import { failedSeals, type FailedSeals } from './failed-seals.js';
import { packAfterActions } from '../facts/pack-after-actions.js';
import { type Refusal, refused } from '../record/problem.js';
import { momentIn } from '../record/times.js';

/** The jars that are to leave, and how many may leave by count where some stay. */
export interface WhichJars {
  /** By their numbers; empty where they were only counted. */
  readonly numbers: readonly number[];
  readonly freeWithout: (jars: readonly JarSpan[]) => Promise<number>;
}

/**
 * Seals are checked last: a jar is not sold, given or sampled before its seal was checked, nor before it could be, and
 * jars with failed seals don't leave. Where only some jars were packed again and not checked since, the others may
 * leave. A drum has no lid that draws down.
 */
export async function refuseUnsealed(
  judging: JudgingContext,
  lot: Lot,
  leaving: JarsLeaving,
  which: WhichJars,
): Promise<Refusal | undefined> {
  if (leaving.kind === 'kept') return undefined;
  const record = await findRecord(judging, 'pack', lot.code);
  if (!record || isBulk(record.body.container)) return undefined;
  const unchecked = lot.verdict?.findings.filter(({ rule }) => rule === 'seals-not-checked') ?? [];
  const uncheckedJars = unchecked.every(({ jars }) => jars !== undefined)
    ? subtractSpans(
        unchecked.flatMap(({ jars = [] }) => jars),
        lot.verdict?.gone ?? [],
      )
    : undefined;
  const found = unchecked.map((each) => each.found).filter((each) => each !== sealsNotCounted);
  const why = found.length > 0 ? ` (${found.join('; ')})` : '';
  if (!uncheckedJars)
    return refused(
      'seals-not-checked',
      `${lot.code}: the seals were not checked${why}, so no jar of it may be sold or given. ${howToCheck} ${alreadyLeftHint}`,
    );
  if (uncheckedJars.length > 0 && (await takesUnchecked(uncheckedJars, leaving, which)))
    return refused(
      'seals-not-checked',
      `${lot.code}: the seals of ${formatSpans(uncheckedJars)} were not checked${why}, so those may not be sold or given; ${await which.freeWithout(uncheckedJars)} others may. ${howToCheck} ${alreadyLeftHint}`,
    );
  const actions = (await recordsForJudging(judging, lot.code))('action').map(({ body }) => body);
  const pack = packAfterActions(record.body, actions);
  const filledAt = uncheckedJars.length > 0 ? pack.wholeFilledAt : pack.filledAt;
  const tooEarly = refuseTooEarly(judging, lot, filledAt, leaving);
  return tooEarly ?? (await refuseFailed(judging, lot, failedSeals(record.body, actions), leaving, which));
}

const takesUnchecked = async (
  unchecked: readonly JarSpan[],
  { jars: count }: JarsLeaving,
  { numbers, freeWithout }: WhichJars,
): Promise<boolean> =>
  numbers.length > 0
    ? numbers.some((n) => overlapsSpans(unchecked, { from: n, to: n }))
    : count > (await freeWithout(unchecked));

const howToCheck =
  'Check every lid 12 to 24 h after filling: drawn down, does not flex. Record how many failed (0 if none did), then send this again.';

/** A lid shows nothing while the jar is warm, whatever was recorded. */
function refuseTooEarly(
  { houseContext }: JudgingContext,
  lot: Lot,
  filledAt: string,
  { sentAt }: JarsLeaving,
): Refusal | undefined {
  const coolMs = Date.parse(filledAt) + leastSealCoolingMs;
  if (Date.parse(sentAt) >= coolMs) return undefined;
  const from = momentIn(houseContext.parseOptions.zone, new Date(coolMs)).slice(0, 16).replace('T', ' ');
  return refused(
    'seals-not-checked',
    `${lot.code} was filled at ${filledAt.slice(0, 16).replace('T', ' ')}, and its lids can’t be checked before they are cold: 12 to 24 h after filling, from ${from}. Send jars that were checked. ${alreadyLeftHint}`,
  );
}

/**
 * No jar whose own seal failed may leave. Where only their number is known, no more jars than the others may leave in
 * all.
 */
async function refuseFailed(
  judging: JudgingContext,
  lot: Lot,
  { offSale, outcomes, named }: FailedSeals,
  { jars: count, id }: JarsLeaving,
  { numbers }: WhichJars,
): Promise<Refusal | undefined> {
  const failed = mergeSpans(numbers.map((n) => ({ from: n, to: n })).filter((jar) => overlapsSpans(named, jar)));
  if (failed.length > 0)
    return refused(
      'seals-failed',
      `${lot.code}: by the records the seal of ${formatSpans(failed)} failed${whatWasDone(outcomes)}, so it may not be sold or given. If it was destroyed or kept, record that; if the record names the wrong jars, correct it. ${alreadyLeftHint}`,
    );
  if (offSale === 0) return undefined;
  const { sql, sugarhouse, houseContext } = judging;
  const now = utcOf(houseContext.parseOptions.now);
  const { parts } = await balanceOf({ sql, sugarhouse }, lot.code, now);
  const alreadyCounted = await jarsOfCorrected(judging, lot.code, id, ({ kind }) =>
    ['sale', 'gift', 'sample'].includes(kind),
  );
  const made = lot.jars ?? 0;
  const left = made - offSale - (parts.sale + parts.gift + parts.sample - parts.returned - alreadyCounted);
  if (count <= left) return undefined;
  return refused(
    'seals-failed',
    `${lot.code}: ${offSale} of ${made} seals failed${whatWasDone(outcomes)}, so ${Math.max(0, left)} more jars may be sold or given, and ${count} are too many. ${alreadyLeftHint}`,
  );
}

const whatWasDone = (outcomes: readonly string[]): string => (outcomes.length > 0 ? ` (${outcomes.join('; ')})` : '');
