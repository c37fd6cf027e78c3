import {
  checksThatCount,
  foundRight,
  type InstrumentChecked,
  offsetOf,
  pointOf,
  wasAdjusted,
} from './instrument-checks.js';
import { coldestInJar, corrected, hundredthsInUnit, type JudgedReading, offsetInText } from '../rules/judge-reading.js';
import { correctionBy } from './thermometer-correction.js';
import { momentOf } from './thermometers.js';
import type { CheckEvidence, SuspectEvidence } from '../rules/finding-evidence.js';

/**
 * Two checks of one point that differ by more than this show an erratic thermometer; on one day, by more than half of
 * it: common practice, no source.
 */
const erraticC = 4 / 1.8;

export interface SuspectReading {
  /** `by T1, which was found wrong by an unknown amount (check C7, 2026-03-22)` */
  readonly text: string;
  readonly evidence: SuspectEvidence;
}

/**
 * Why checks make a passing reading unreliable: its thermometer was found wrong by an unknown amount, or erratic,
 * between the last good check of that point and the next; or a bad check at or after the reading, with no good one
 * before it, read so high that the reading would be too cold.
 */
export function unreliable({ fill, by, unit }: JudgedReading): SuspectReading | undefined {
  if (!by) return undefined;
  const atMs = momentOf(fill);
  const { id, checks } = by.thermometer;
  const counting = checksThatCount(checks);
  const who = by.isAssumed ? `by a thermometer taken to be ${id}` : `by ${id}`;
  const unknown = counting.find((each) => isOfUnknownAmount(each) && isWithin(periodOf(each, counting), atMs));
  if (unknown)
    return {
      text: `${who}, found wrong by an unknown amount (${named(unknown)})`,
      evidence: { because: 'wrong-by-unknown-amount', checks: [evidenceOf(unknown)] },
    };
  const pair = erraticPairs(counting).find(([first, second]) => isWithin(pairWindow(first, second, counting), atMs));
  if (pair)
    return {
      text: `${who}, which reads erratically (${pair.map((each) => `${readsInText(each)}, ${named(each)}`).join('; ')})`,
      evidence: { because: 'erratic', checks: pair.map(evidenceOf) },
    };
  const high = counting.find((each) => {
    if (foundRight(each) !== false || each.atMs < atMs || !isWithin(periodOf(each, counting), atMs)) return false;
    const offsetC = correctionBy(each, counting, { atMs, celsius: fill.temperature.celsius }) ?? 0;
    return corrected(fill.temperature.degrees, unit, offsetC) < coldestInJar[unit];
  });
  return (
    high && {
      text: `${who}, which ${readsInText(high)} (${named(high)})`,
      evidence: { because: 'read-high', checks: [evidenceOf(high)] },
    }
  );
}

function evidenceOf(check: InstrumentChecked): CheckEvidence {
  const offsetC = offsetOf(check);
  const unit = check.should?.unit ?? 'F';
  return {
    check: check.id,
    day: check.day,
    passed: foundRight(check) !== false,
    ...(offsetC === undefined ? {} : { correction: hundredthsInUnit(offsetC, unit), unit }),
  };
}

/** A bad check around a reading by which the instrument read low: the jar was hotter than recorded. */
export function readLow({ fill, by }: JudgedReading): InstrumentChecked | undefined {
  if (!by || by.offsetC <= 0) return undefined;
  const counting = checksThatCount(by.thermometer.checks);
  return counting.find(
    (each) =>
      foundRight(each) === false && (offsetOf(each) ?? 0) > 0 && isWithin(periodOf(each, counting), momentOf(fill)),
  );
}

/** A check's id and day, for sentences. */
export const named = ({ id, day }: InstrumentChecked): string => `check ${id}${day ? `, ${day}` : ''}`;

/** An instrument's error at its check, in degrees; or that it read right. */
export function readsInText(check: InstrumentChecked): string {
  const offsetC = offsetOf(check);
  if (offsetC === undefined) return foundRight(check) === false ? 'wrong' : 'right';
  return Math.abs(offsetC) < 1e-9 ? 'read right' : `read ${offsetInText(offsetC, check.should?.unit ?? 'F')}`;
}

interface Window {
  readonly afterMs: number;
  readonly untilMs: number;
}
const isWithin = ({ afterMs, untilMs }: Window, atMs: number): boolean =>
  atMs > afterMs && (atMs < untilMs || untilMs === Infinity);

const isOfUnknownAmount = (check: InstrumentChecked): boolean =>
  foundRight(check) === false && offsetOf(check) === undefined;

/**
 * From the last good check of the same point before a bad one to the next good one. Readings after the bad check, with
 * an unadjusted instrument, are as suspect as those before it.
 */
export function periodOf(bad: InstrumentChecked, checks: readonly InstrumentChecked[]): Window {
  const same = checks.filter(
    (each) => pointOf(each) === pointOf(bad) || (isOfUnknownAmount(bad) && each.how === bad.how),
  );
  return {
    afterMs: same.findLast((each) => each.atMs < bad.atMs && foundRight(each) === true)?.atMs ?? -Infinity,
    untilMs: same.find((each) => each.atMs > bad.atMs && foundRight(each) === true)?.atMs ?? Infinity,
  };
}

function pairWindow(first: InstrumentChecked, second: InstrumentChecked, checks: readonly InstrumentChecked[]): Window {
  const from = foundRight(first) === true ? first.atMs : periodOf(first, checks).afterMs;
  return { afterMs: from, untilMs: foundRight(second) === true ? second.atMs : periodOf(second, checks).untilMs };
}

/**
 * Checks of one point that follow each other and disagree, where the instrument was not adjusted between them: at
 * whichever point somebody looked when it was, its nut moves the whole scale.
 */
function erraticPairs(checks: readonly InstrumentChecked[]): (readonly [InstrumentChecked, InstrumentChecked])[] {
  return checks.flatMap((second, index) => {
    const first = checks
      .slice(0, index)
      .findLast((each) => pointOf(each) === pointOf(second) && offsetOf(each) !== undefined);
    const [a, b] = [first && offsetOf(first), offsetOf(second)];
    if (!first || a === undefined || b === undefined) return [];
    if (checks.slice(checks.indexOf(first), index).some(wasAdjusted)) return [];
    const allowed = first.day !== undefined && first.day === second.day ? erraticC / 2 : erraticC;
    return Math.abs(a - b) > allowed + 1e-9 ? [[first, second] as const] : [];
  });
}
