import { titleOf } from '#libs/syrup/rules/rules.js';
import { balanceOf } from '#libs/store/queries/jar-balance.js';
import { heldByHand } from '#libs/store/log/lot-entries.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { countJarsNotGone } from '#libs/store/queries/jars-downstream.js';
import { findJar, type Jar, type Lot } from '#libs/store/queries/lots.js';
import { hasMoved, movementsOf, movementsOfJar } from '#libs/store/queries/trace.js';
import { type JarSpan, formatSpans, mergedSpans, touches } from '#libs/syrup/jars/held-jars.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import type { Judging } from './judging.js';
import { allGoneText, areAllGone } from './all-gone.js';
import { isApart } from './returned-jars-apart.js';
import { jarsTakenOff, formatMethod } from './jars-taken-off.js';
import { lotJudgedNow } from './judged-now.js';
import { refuseUnsealed } from './seals-before-sale.js';
import { isForEating, type JarsLeaving } from './jars-leaving.js';
import { alreadyLeftHint } from './already-left-hint.js';
import { type Refusal, refused, unknown } from '../record/problem.js';

/** Which jars of a pack may go out, judged at this moment. */
export interface MayGo {
  readonly lot: Lot;
  /** All of them, those outside `held`, or none. */
  readonly which: 'all' | 'some' | 'none';
  readonly held: readonly JarSpan[];
}

/**
 * The only place that decides whether jars may leave: labels, dispatches and jar pages all use it. Where every hold
 * names its jars the others may leave, unless the lot is held by hand or waits for a release.
 */
export async function mayGo(judging: Judging, code: string): Promise<MayGo | undefined> {
  const lot = await lotJudgedNow(judging, code);
  return lot && standingOf(judging, lot);
}

/** The same for a lot that is already judged. */
export async function standingOf({ sql, sugarhouse }: Pick<Judging, 'sql' | 'sugarhouse'>, lot: Lot): Promise<MayGo> {
  if (lot.state === 'open' || lot.state === 'released') return { lot, which: 'all', held: [] };
  const held = lot.state === 'held' && !lot.verdict?.awaitsRelease ? lot.verdict?.heldJars : undefined;
  if (!held || held.length === 0 || (await heldByHand({ sql, sugarhouse }, lot.code)))
    return { lot, which: 'none', held: [] };
  return { lot, which: 'some', held };
}

/**
 * Why these jars may not leave and what to do about it; undefined where they may. Plans and facts are treated alike.
 */
export async function refuseLeaving(
  judging: Judging,
  code: string,
  leaving: JarsLeaving,
): Promise<Refusal | undefined> {
  if (!isForEating(leaving)) return undefined;
  const standing = await mayGo(judging, code);
  if (!standing) return unknown('lot', code);
  if (standing.which === 'none') return refusedFor(standing, `no jar of it may leave`);
  const jars = await jarsNamed(judging, leaving.codes);
  const gone =
    (await refuseTakenOff(judging, standing.lot, jars)) ?? (await refuseMoreThanLeft(judging, standing, leaving));
  if (gone) return gone;
  if (standing.which === 'some') {
    const refusal = await refuseHeldJars(judging, standing, jars, leaving);
    if (refusal) return refusal;
  }
  return (
    (await refuseUnsealed(judging, standing.lot, leaving, {
      numbers: jars.map(({ n }) => n),
      freeWithout: (unchecked) =>
        freeOnHand(judging, { ...standing, held: mergedSpans([...standing.held, ...unchecked]) }, leaving.id),
    })) ?? (await refuseApart(judging, standing.lot, jars, leaving))
  );
}

/** A jar that a corrective action destroyed or poured back can't be sold: one of the two records is wrong. */
async function refuseTakenOff(
  { sql, sugarhouse }: Judging,
  lot: Lot,
  jars: readonly Jar[],
): Promise<Refusal | undefined> {
  const jar = jars.find(({ n }) => touches(lot.verdict?.gone ?? [], { from: n, to: n }));
  if (!jar) return undefined;
  const by = (await jarsTakenOff({ sql, sugarhouse }, lot.code, jar.n)).at(-1);
  return refused(
    'destroyed',
    `${printedJarCode(jar.code)} (jar ${jar.n}) of ${lot.code} was ${by ? `${formatMethod(by.way)} by ${by.id}, ${by.by} ${by.at.slice(0, 10)}` : 'destroyed'}, so it may not leave. Where that names the wrong jars, correct it. ${alreadyLeftHint}`,
  );
}

/** By count no more jars than are left where some were destroyed or poured back: one more may be one of those. */
async function refuseMoreThanLeft(
  judging: Judging,
  standing: MayGo,
  { codes, jars, id }: JarsLeaving,
): Promise<Refusal | undefined> {
  const gone = standing.lot.verdict?.gone ?? [];
  if (gone.length === 0 || codes.length > 0 || standing.which === 'some') return undefined;
  const left = await freeOnHand(judging, standing, id);
  if (jars <= left) return undefined;
  return refused(
    'destroyed',
    `${standing.lot.code} has ${left} ${left === 1 ? 'jar' : 'jars'} left that may leave, ${jars} are too many: ${formatSpans(gone)} were destroyed or poured back. Where that names the wrong jars, correct it. ${alreadyLeftHint}`,
  );
}

/** Of a partly held pack: no held jar by its code, and by count no more than the free ones on hand. */
async function refuseHeldJars(
  judging: Judging,
  standing: MayGo,
  jars: readonly Jar[],
  { codes, jars: count, id }: JarsLeaving,
): Promise<Refusal | undefined> {
  if (codes.length > 0) {
    const held = jars.filter(({ n }) => touches(standing.held, { from: n, to: n }));
    if (held.length === 0) return undefined;
    const named = held.map((jar) => `${printedJarCode(jar.code)} (jar ${jar.n})`).join(', ');
    return refusedFor(standing, `${named} may not leave; the other jars may`);
  }
  const free = await freeOnHand(judging, standing, id);
  if (count <= free) return undefined;
  return refusedFor(
    standing,
    `${free} ${free === 1 ? 'jar' : 'jars'} on hand may leave, ${count} are too many. Take none of ${formatSpans(standing.held)}`,
  );
}

/**
 * Jars on hand that nothing holds. Which jars left by count is unknown, so every held jar counts as on hand unless its
 * own code left.
 */
async function freeOnHand(
  { sql, sugarhouse, houseContext }: Judging,
  { lot, held }: MayGo,
  id?: string,
): Promise<number> {
  const now = utcOf(houseContext.parseOptions.now);
  const { made, onHand, sentOut, destroyed, other } = await balanceOf({ sql, sugarhouse }, lot.code, now);
  // A count above the jars made, or more jars returned than sent, means that one of the records is wrong: it adds no
  // jar.
  const atMost = made - Math.max(0, sentOut) - destroyed - other;
  const own = (await movementsOf({ sql, sugarhouse }, [lot.code])).find((each) => each.id === id);
  const corrected = own && hasMoved(own, now) && own.kind !== 'returned' ? own.jars : 0;
  let heldHere = 0;
  for (const span of held) heldHere += await countJarsNotGone({ sql, sugarhouse }, lot.code, span, now);
  return Math.max(0, Math.min(onHand, atMost) + corrected - heldHere);
}

/**
 * Returned jars and jars with complaints are set apart until somebody records that they are sealed and how they were
 * stored.
 */
async function refuseApart(
  { sql, sugarhouse, houseContext }: Judging,
  lot: Lot,
  jars: readonly Jar[],
  { jars: count, codes, id }: JarsLeaving,
): Promise<Refusal | undefined> {
  const now = utcOf(houseContext.parseOptions.now);
  for (const jar of jars) {
    const moved = (await movementsOfJar({ sql, sugarhouse }, jar.code)).filter((each) => hasMoved(each, now));
    const last = moved.filter((each) => each.id !== id).at(-1);
    if (last && isApart(last))
      return refused(
        'returned',
        `${printedJarCode(jar.code)} was returned from ${last.to} on ${last.sentAt.slice(0, 10)} (${last.id}) and is set apart: first record on ${last.id} whether it is still sealed and how it was kept.`,
      );
  }
  if (codes.length > 0) return undefined;
  const { onHand, parts } = await balanceOf({ sql, sugarhouse }, lot.code, now);
  const own = (await movementsOf({ sql, sugarhouse }, [lot.code])).find((each) => each.id === id);
  const there = onHand + (own && hasMoved(own, now) && own.kind !== 'returned' ? own.jars : 0);
  if (parts.returnedApart === 0 || count <= there) return undefined;
  return refused(
    'returned',
    `${lot.code} has ${there} ${there === 1 ? 'jar' : 'jars'} on hand; returned and set apart: ${parts.returnedApart}. First record on their return whether they are still sealed and how they were kept.`,
  );
}

async function jarsNamed({ sql }: Judging, codes: readonly string[]): Promise<Jar[]> {
  const jars: Jar[] = [];
  for (const code of codes) {
    const jar = await findJar(sql, code);
    if (jar) jars.push(jar);
  }
  return jars;
}

function refusedFor(standing: MayGo, what: string): Refusal {
  const { lot } = standing;
  return refused(holdRuleOf(lot), `${lot.code} is ${lot.state}: ${what}. ${whyHeld(lot)} ${alreadyLeftHint}`);
}

/** The rule that a refusal names. */
export const holdRuleOf = (lot: Lot): string =>
  lot.state === 'recalled' ? 'recalled' : (holdsOf(lot)[0]?.rule ?? lot.state);

const holdsOf = (lot: Lot) => (lot.verdict?.findings ?? []).filter(({ stop }) => stop);

/** What holds a lot and how it can be released, in sentences. */
export function whyHeld(lot: Lot): string {
  if (lot.state === 'recalled') return 'A recalled lot stays recalled: destroy it, or send a sample to a laboratory.';
  const holds = holdsOf(lot);
  if (holds.length === 0 && areAllGone(lot)) return `${allGoneText} (book release ${lot.code})`;
  if (holds.length === 0)
    return `${lot.verdict?.awaitsRelease ?? 'It is held by hand.'} A maker releases it with the reason: book release ${lot.code}.`;
  const remedies = [...new Set(holds.flatMap(({ wayOut }) => wayOut ?? []))];
  return [
    ...holds.map((hold) => `${titleOf(hold.rule)}: found ${hold.found}; limit ${hold.limit}.`),
    ...(remedies.length > 0 ? remedies : [`Record the corrective action with its new readings: book act ${lot.code}.`]),
  ].join(' ');
}
