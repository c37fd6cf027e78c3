import { balanceOf, returnsOfSentJars } from '#libs/store/queries/jar-balance.js';
import { utcOf } from '#libs/store/connection/instants.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { hasMoved, type Movement, movementsOf } from '#libs/store/queries/trace.js';
import {
  alreadyLeft,
  leftBeforeHold,
  returnedMoreThanSent,
  sentMoreThanMade,
} from '#libs/syrup/rules/entry-findings.js';
import { heldJarsOf } from '#libs/syrup/rules/accept-findings.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';
import { momentIn } from '../record/times.js';
import { reportsAlreadyLeft } from '../kinds/acknowledgement.js';
import type { JudgingContext } from './judging-context.js';
import { heldJarsSentBefore, isSentOut, sentSinceHold } from './sent-while-held.js';

/**
 * Findings from movements of jars: left while held, or more than there were. Both are facts, so they are advisories.
 * `holds` are the findings that hold the lot now.
 */
export async function loadDispatchFindings(
  judging: JudgingContext,
  lot: Lot,
  jarsMade: number | undefined,
  holds: readonly Finding[],
): Promise<Finding[]> {
  const { sql, sugarhouse, houseContext } = judging;
  const pack = { lot, made: jarsMade ?? 0, heldJars: heldJarsOf(holds) };
  const now = utcOf(houseContext.parseOptions.now);
  const movements = (await movementsOf({ sql, sugarhouse }, [lot.code])).filter((each) => hasMoved(each, now));
  if (movements.length === 0) return [];
  const balance = await balanceOf({ sql, sugarhouse }, lot.code, now);
  const sinceHold = await sentSinceHold(judging, pack, movements);
  const gone = balance.sentOut + balance.destroyed + balance.other;
  return [
    ...(holds.length > 0
      ? leftBeforeHold({
          lot: lot.code,
          jars: countSentBeforeHold(lot, movements) + sinceHold.heldLater - balance.parts.returned,
          held: await heldJarsSentBefore(judging, pack, movements),
        })
      : []),
    ...sinceHold.findings,
    ...(movements.some((each) => each.alreadyLeft) ? await alreadyLeftFindings(sql, sugarhouse, lot) : []),
    ...returnedMoreThanSent({ lot: lot.code, returned: countReturned(movements), ofSent: balance.parts.returned }),
    ...sentMoreThanMade({ lot: lot.code, made: jarsMade ?? 0, sentInAll: gone }),
  ];
}

/**
 * When a hold begins: when the event happened that causes it, but now where jars have left since. Nothing held them
 * when they left, and a hold dated before would say that they left a held lot. Returned as a moment with its offset.
 */
export async function holdBegins(judging: JudgingContext, lot: Lot): Promise<string> {
  const { zone, now } = judging.houseContext.parseOptions;
  const movements = await movementsOf(judging, [lot.code]);
  const leftSince = movements.some((each) => hasMoved(each, utcOf(now)) && each.sentUtc >= utcOf(judging.at));
  return leftSince ? momentIn(zone, now) : judging.at;
}

const countReturned = (movements: readonly Pick<Movement, 'kind' | 'jars'>[]): number =>
  movements.filter(({ kind }) => kind === 'returned').reduce((sum, { jars }) => sum + jars, 0);

/** Jars of a pack sold, given or sampled until now, less those returned; a laboratory may get any jar. */
export async function countSentOut(judging: JudgingContext, code: string): Promise<number> {
  const now = utcOf(judging.houseContext.parseOptions.now);
  const sent = (await movementsOf(judging, [code])).filter((each) => isSentOut(each) && hasMoved(each, now));
  const { parts } = await balanceOf(judging, code, now);
  return sent.reduce((sum, { jars }) => sum + jars, 0) - parts.returned;
}

/** Jars sold, given or sampled before anything held the lot: the hold doesn't reach them. */
function countSentBeforeHold(lot: Lot, movements: readonly Movement[]): number {
  const since = lot.state === 'held' && lot.heldSince !== undefined ? utcOf(lot.heldSince) : undefined;
  return movements
    .filter((each) => isSentOut(each) && !each.alreadyLeft)
    .filter((each) => since === undefined || each.sentUtc < since)
    .reduce((sum, each) => sum + each.jars, 0);
}

/**
 * Notes to whoever records a new movement that contradicts the earlier ones: with it, more jars left than were made, or
 * more were returned than had been sent out. Jars that had been returned before aren't counted twice.
 */
export async function contradictionNotes(
  reader: Pick<JudgingContext, 'sql' | 'sugarhouse'>,
  lot: Lot,
  own: Pick<Movement, 'kind' | 'jars' | 'sentUtc' | 'fromReturned'>,
  now: Date,
): Promise<string[]> {
  const nowUtc = utcOf(now);
  const moved = (await movementsOf(reader, [lot.code])).filter((each) => hasMoved(each, nowUtc));
  const balance = await balanceOf(reader, lot.code, nowUtc);
  const sentInAll = balance.sentOut + balance.destroyed + balance.other + own.jars - own.fromReturned;
  const found =
    own.kind === 'returned'
      ? returnedMoreThanSent({
          lot: lot.code,
          returned: countReturned([...moved, own]),
          ofSent: countReturned(returnsOfSentJars([...moved, { ...own, backOnShelf: 0 }])),
        })
      : sentMoreThanMade({ lot: lot.code, made: lot.jars ?? 0, sentInAll });
  return found.map((each) => `Saved, but one of the records is wrong: ${each.found}.`);
}

/** These stay among the lot's findings whatever its status: a release doesn't undo a deviation. */
async function alreadyLeftFindings(sql: JudgingContext['sql'], sugarhouse: string, lot: Lot): Promise<Finding[]> {
  const reports = await reportsAlreadyLeft({ sql, sugarhouse }, lot.code);
  return reports.map(({ dispatch: { id, body }, acknowledged }) =>
    alreadyLeft({
      lot: lot.code,
      id,
      jars: body.jars,
      to: body.to,
      on: body.sentAt.slice(0, 10),
      by: body.by,
      acknowledgedBy: acknowledged?.by,
    }),
  );
}
