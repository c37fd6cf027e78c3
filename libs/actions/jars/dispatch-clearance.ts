import { asSentence } from '#libs/format/as-sentence.js';
import { ruleTitle } from '#libs/syrup/rules/rules.js';
import { balanceOf } from '#libs/store/queries/jar-balance.js';
import { heldByHand } from '#libs/store/log/lot-entries.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { countJarsNotGone } from '#libs/store/queries/jars-downstream.js';
import { findJar, type Jar, type Lot } from '#libs/store/queries/lots.js';
import { hasMoved, movementsOfJar } from '#libs/store/queries/trace.js';
import { type JarSpan, formatSpans, mergeSpans, overlapsSpans } from '#libs/syrup/jars/jar-spans.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { jarsOfCorrected } from './corrected-movement.js';
import type { JudgingContext } from '../judging/judging-context.js';
import { allGoneText, areAllGone } from './all-gone.js';
import { isSetApart } from './returned-jars-apart.js';
import { loadJarRemovals, formatMethod } from './jar-removals.js';
import { judgeLotNow } from '../judging/judge-now.js';
import { refuseUnsealed } from './seals-before-sale.js';
import { isForEating, type JarsLeaving } from './jars-leaving.js';
import { alreadyLeftHint } from './already-left-hint.js';
import { type Refusal, refused, unknown } from '../record/problem.js';

/** Which jars of a pack may go out, judged at this moment. */
export interface DispatchClearance {
  readonly lot: Lot;
  /** All of them, those outside `held`, or none. */
  readonly which: 'all' | 'some' | 'none';
  readonly held: readonly JarSpan[];
}

/**
 * The only place that decides whether jars may leave: labels, dispatches and jar pages all use it. Where every hold
 * names its jars the others may leave, unless the lot is held by hand or waits for a release.
 */
export async function loadDispatchClearance(
  judging: JudgingContext,
  code: string,
): Promise<DispatchClearance | undefined> {
  const lot = await judgeLotNow(judging, code);
  return lot && dispatchClearanceOf(judging, lot);
}

/** The same for a lot that is already judged. */
export async function dispatchClearanceOf(
  { sql, sugarhouse }: Pick<JudgingContext, 'sql' | 'sugarhouse'>,
  lot: Lot,
): Promise<DispatchClearance> {
  if (lot.state === 'open' || lot.state === 'released') return { lot, which: 'all', held: [] };
  const held = lot.state === 'held' && !lot.verdict?.awaitsRelease ? lot.verdict?.heldJars : undefined;
  if (!held || held.length === 0 || (await heldByHand({ sql, sugarhouse }, lot.code)))
    return { lot, which: 'none', held: [] };
  return { lot, which: 'some', held };
}

/**
 * Why these jars may not leave and what to do about it; undefined where they may. Plans and facts are treated alike.
 */
export async function refuseDispatch(
  judging: JudgingContext,
  code: string,
  leaving: JarsLeaving,
): Promise<Refusal | undefined> {
  if (!isForEating(leaving)) return undefined;
  const clearance = await loadDispatchClearance(judging, code);
  if (!clearance) return unknown('lot', code);
  if (clearance.which === 'none') return refuseHeld(clearance, `no jar of it may leave`);
  const jars = await findJars(judging, leaving.codes);
  const takenOffRefusal =
    (await refuseRemovedJars(judging, clearance.lot, jars)) ?? (await refuseMoreThanLeft(judging, clearance, leaving));
  if (takenOffRefusal) return takenOffRefusal;
  if (clearance.which === 'some') {
    const refusal = await refuseHeldJars(judging, clearance, jars, leaving);
    if (refusal) return refusal;
  }
  return (
    (await refuseUnsealed(judging, clearance.lot, leaving, {
      numbers: jars.map(({ n }) => n),
      freeWithout: (unchecked) =>
        freeOnHand(judging, { ...clearance, held: mergeSpans([...clearance.held, ...unchecked]) }, leaving.id),
    })) ?? (await refuseSetApart(judging, clearance.lot, jars, leaving))
  );
}

/** The jars of these codes that are held now, of a pack that is partly held. */
export async function heldAmong(judging: JudgingContext, lot: string, codes: readonly string[]): Promise<JarSpan[]> {
  const clearance = await loadDispatchClearance(judging, lot);
  if (clearance?.which !== 'some') return [];
  const numbers = (await findJars(judging, codes)).map(({ n }) => ({ from: n, to: n }));
  return mergeSpans(numbers.filter((jar) => overlapsSpans(clearance.held, jar)));
}

/** A jar that a corrective action destroyed or poured back can't be sold: one of the two records is wrong. */
async function refuseRemovedJars(
  { sql, sugarhouse }: JudgingContext,
  lot: Lot,
  jars: readonly Jar[],
): Promise<Refusal | undefined> {
  const jar = jars.find(({ n }) => overlapsSpans(lot.verdict?.gone ?? [], { from: n, to: n }));
  if (!jar) return undefined;
  const by = (await loadJarRemovals({ sql, sugarhouse }, lot.code, jar.n)).at(-1);
  return refused(
    'destroyed',
    `${printedJarCode(jar.code)} (jar ${jar.n}) of ${lot.code} was ${by ? `${formatMethod(by.way)} by ${by.id}, ${by.by} ${by.at.slice(0, 10)}` : 'destroyed'}, so it may not leave. Where that names the wrong jars, correct it. ${alreadyLeftHint}`,
  );
}

/** By count no more jars than are left where some were destroyed or poured back: one more may be one of those. */
async function refuseMoreThanLeft(
  judging: JudgingContext,
  clearance: DispatchClearance,
  { codes, jars, id }: JarsLeaving,
): Promise<Refusal | undefined> {
  const gone = clearance.lot.verdict?.gone ?? [];
  if (gone.length === 0 || codes.length > 0 || clearance.which === 'some') return undefined;
  const left = await freeOnHand(judging, clearance, id);
  if (jars <= left) return undefined;
  return refused(
    'destroyed',
    `${clearance.lot.code} has ${left} ${left === 1 ? 'jar' : 'jars'} left that may leave, ${jars} are too many: ${formatSpans(gone)} were destroyed or poured back. Where that names the wrong jars, correct it. ${alreadyLeftHint}`,
  );
}

/** Of a partly held pack: no held jar by its code, and by count no more than the free ones on hand. */
async function refuseHeldJars(
  judging: JudgingContext,
  clearance: DispatchClearance,
  jars: readonly Jar[],
  { codes, jars: count, id }: JarsLeaving,
): Promise<Refusal | undefined> {
  if (codes.length > 0) {
    const held = jars.filter(({ n }) => overlapsSpans(clearance.held, { from: n, to: n }));
    if (held.length === 0) return undefined;
    const named = held.map((jar) => `${printedJarCode(jar.code)} (jar ${jar.n})`).join(', ');
    return refuseHeld(clearance, `${named} may not leave; the other jars may`);
  }
  const free = await freeOnHand(judging, clearance, id);
  if (count <= free) return undefined;
  return refuseHeld(
    clearance,
    `${free} ${free === 1 ? 'jar' : 'jars'} on hand may leave, ${count} are too many. Take none of ${formatSpans(clearance.held)}`,
  );
}

/**
 * Jars on hand that nothing holds. Which jars left by count is unknown, so every held jar counts as on hand unless its
 * own code left.
 */
async function freeOnHand(judging: JudgingContext, { lot, held }: DispatchClearance, id?: string): Promise<number> {
  const { sql, sugarhouse, houseContext } = judging;
  const now = utcOf(houseContext.parseOptions.now);
  const { made, onHand, sentOut, destroyed, other } = await balanceOf({ sql, sugarhouse }, lot.code, now);
  // A count above the jars made, or more jars returned than sent, means that one of the records is wrong: it adds no
  // jar.
  const atMost = made - Math.max(0, sentOut) - destroyed - other;
  const corrected = await jarsOfCorrected(judging, lot.code, id);
  let heldHere = 0;
  for (const span of held) heldHere += await countJarsNotGone({ sql, sugarhouse }, lot.code, span, now);
  return Math.max(0, Math.min(onHand, atMost) + corrected - heldHere);
}

/**
 * Returned jars and jars with complaints are set apart until somebody records that they are sealed and how they were
 * stored.
 */
async function refuseSetApart(
  judging: JudgingContext,
  lot: Lot,
  jars: readonly Jar[],
  { jars: count, codes, id }: JarsLeaving,
): Promise<Refusal | undefined> {
  const { sql, sugarhouse, houseContext } = judging;
  const now = utcOf(houseContext.parseOptions.now);
  for (const jar of jars) {
    const moved = (await movementsOfJar({ sql, sugarhouse }, jar.code)).filter((each) => hasMoved(each, now));
    const last = moved.filter((each) => each.id !== id).at(-1);
    if (last && isSetApart(last))
      return refused(
        'returned',
        `${printedJarCode(jar.code)} was returned from ${last.to} on ${last.sentAt.slice(0, 10)} (${last.id}) and is set apart: first record on ${last.id} whether it is still sealed and how it was kept.`,
      );
  }
  if (codes.length > 0) return undefined;
  const { onHand, parts } = await balanceOf({ sql, sugarhouse }, lot.code, now);
  const available = onHand + (await jarsOfCorrected(judging, lot.code, id));
  if (parts.returnedApart === 0 || count <= available) return undefined;
  return refused(
    'returned',
    `${lot.code} has ${available} ${available === 1 ? 'jar' : 'jars'} on hand; returned and set apart: ${parts.returnedApart}. First record on their return whether they are still sealed and how they were kept.`,
  );
}

async function findJars({ sql }: JudgingContext, codes: readonly string[]): Promise<Jar[]> {
  const jars: Jar[] = [];
  for (const code of codes) {
    const jar = await findJar(sql, code);
    if (jar) jars.push(jar);
  }
  return jars;
}

function refuseHeld(clearance: DispatchClearance, what: string): Refusal {
  const { lot } = clearance;
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
    ...holds.map(
      (hold) => `${ruleTitle(hold.rule)}: found ${asSentence(hold.found)} Required: ${asSentence(hold.limit)}`,
    ),
    ...(remedies.length > 0 ? remedies : [`Record the corrective action with its new readings: book act ${lot.code}.`]),
  ].join(' ');
}
