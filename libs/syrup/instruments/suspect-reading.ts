import {
  validChecks,
  passedCheck,
  type InstrumentChecked,
  offsetCelsius,
  scalePoint,
  wasAdjusted,
  wasRetired,
} from './instrument-checks.js';
import {
  coldestInJar,
  correctedDegrees,
  roundedOffset,
  type JudgedReading,
  formatOffset,
} from '../rules/judge-reading.js';
import { correctionCelsiusBy } from './thermometer-correction.js';
import { readingMs } from './thermometers.js';
import type { CheckEvidence, SuspectEvidence } from '../rules/finding-evidence.js';

/**
 * Two checks of one point that differ by more than this show an erratic thermometer, or an adjustment that nobody
 * recorded; on one day, by more than half of it: common practice, no source.
 */
const erraticCelsius = 4 / 1.8;

/** Why a reading is unreliable: for the sentence of a finding, and as stored with a release. */
export interface SuspectReading {
  /** `by T1, which was found wrong by an unknown amount (check C7, 2026-03-22)` */
  readonly text: string;
  readonly evidence: SuspectEvidence;
}

/**
 * Why a passing reading is unreliable by the checks of its thermometer: between two passed checks around it the
 * thermometer was wrong by an unknown amount, or erratic; a failed check read so high that the jar may have been too cold;
 * or its last check before says that it was taken out of use. Undefined where it is reliable.
 */
export function whyUnreliable({ fill, by, unit }: JudgedReading): SuspectReading | undefined {
  if (!by) return undefined;
  const atMs = readingMs(fill);
  const { id, checks } = by.thermometer;
  const valid = validChecks(checks);
  const who = by.isAssumed ? `by a thermometer taken to be ${id}` : `by ${id}`;
  const retired = checks.findLast((each) => each.atMs <= atMs);
  if (retired && wasRetired(retired))
    return {
      text: `${who}, recorded as out of use before (${formatCheckName(retired)})`,
      evidence: { because: 'out-of-use', checks: [evidenceOf(retired)] },
    };
  const unknown = valid.find((each) => isOfUnknownAmount(each) && isWithin(suspectWindow(each, valid), atMs));
  if (unknown)
    return {
      text: `${who}, found wrong by an unknown amount (${formatCheckName(unknown)})`,
      evidence: { because: 'wrong-by-unknown-amount', checks: [evidenceOf(unknown)] },
    };
  const pair = erraticPairs(valid).find(([first, second]) => isWithin(pairWindow(first, second, valid), atMs));
  if (pair)
    return {
      text: `${who}, whose checks disagree with no adjustment recorded between them (${pair.map((each) => `${formatCheckError(each)}, ${formatCheckName(each)}`).join('; ')})`,
      evidence: { because: 'erratic', checks: pair.map(evidenceOf) },
    };
  const high = valid.find((each) => {
    if (passedCheck(each) !== false || each.atMs < atMs || !isWithin(suspectWindow(each, valid), atMs)) return false;
    const offsetC = correctionCelsiusBy(each, valid, { atMs, celsius: fill.temperature.celsius }) ?? 0;
    return correctedDegrees(fill.temperature.degrees, unit, offsetC) < coldestInJar[unit];
  });
  return (
    high && {
      text: `${who}, which ${formatCheckError(high)} (${formatCheckName(high)})`,
      evidence: { because: 'read-high', checks: [evidenceOf(high)] },
    }
  );
}

function evidenceOf(check: InstrumentChecked): CheckEvidence {
  const offsetC = offsetCelsius(check);
  const unit = check.should?.unit ?? 'F';
  return {
    check: check.id,
    day: check.day,
    passed: passedCheck(check) !== false,
    ...(offsetC === undefined ? {} : { correction: roundedOffset(offsetC, unit), unit }),
  };
}

/** A failed check around a reading by which the thermometer read low, so that the jar was hotter than recorded. */
export function checkThatReadLow({ fill, by }: JudgedReading): InstrumentChecked | undefined {
  if (!by || by.offsetC <= 0) return undefined;
  const valid = validChecks(by.thermometer.checks);
  return valid.find(
    (each) =>
      passedCheck(each) === false &&
      (offsetCelsius(each) ?? 0) > 0 &&
      isWithin(suspectWindow(each, valid), readingMs(fill)),
  );
}

/** A check's id and day, for sentences. */
export const formatCheckName = ({ id, day }: InstrumentChecked): string => `check ${id}${day ? `, ${day}` : ''}`;

/** An instrument’s error at a check: `read 3 °F low`, `read right`; `wrong` or `right` without both temperatures. */
export function formatCheckError(check: InstrumentChecked): string {
  const offsetC = offsetCelsius(check);
  if (offsetC === undefined) return passedCheck(check) === false ? 'wrong' : 'right';
  return Math.abs(offsetC) < 1e-9 ? 'read right' : `read ${formatOffset(offsetC, check.should?.unit ?? 'F')}`;
}

/** A period in milliseconds, without its ends. */
interface Window {
  readonly afterMs: number;
  readonly untilMs: number;
}
const isWithin = ({ afterMs, untilMs }: Window, atMs: number): boolean =>
  atMs > afterMs && (atMs < untilMs || untilMs === Infinity);

const isOfUnknownAmount = (check: InstrumentChecked): boolean =>
  passedCheck(check) === false && offsetCelsius(check) === undefined;

/**
 * The period around a failed check, from the last passed check of the same point before it to the next after it: until
 * then the instrument was as wrong as at the check.
 */
export function suspectWindow(bad: InstrumentChecked, checks: readonly InstrumentChecked[]): Window {
  const same = checks.filter(
    (each) => scalePoint(each) === scalePoint(bad) || (isOfUnknownAmount(bad) && each.how === bad.how),
  );
  return {
    afterMs: same.findLast((each) => each.atMs < bad.atMs && passedCheck(each) === true)?.atMs ?? -Infinity,
    untilMs: same.find((each) => each.atMs > bad.atMs && passedCheck(each) === true)?.atMs ?? Infinity,
  };
}

function pairWindow(first: InstrumentChecked, second: InstrumentChecked, checks: readonly InstrumentChecked[]): Window {
  const from = passedCheck(first) === true ? first.atMs : suspectWindow(first, checks).afterMs;
  return { afterMs: from, untilMs: passedCheck(second) === true ? second.atMs : suspectWindow(second, checks).untilMs };
}

/**
 * Pairs of consecutive checks of one point that disagree, where the instrument was not adjusted between them. An
 * adjustment at any point counts, since it moves the whole scale.
 */
function erraticPairs(checks: readonly InstrumentChecked[]): (readonly [InstrumentChecked, InstrumentChecked])[] {
  return checks.flatMap((second, index) => {
    const first = checks
      .slice(0, index)
      .findLast((each) => scalePoint(each) === scalePoint(second) && offsetCelsius(each) !== undefined);
    const [a, b] = [first && offsetCelsius(first), offsetCelsius(second)];
    if (!first || a === undefined || b === undefined) return [];
    if (checks.slice(checks.indexOf(first), index).some(wasAdjusted)) return [];
    const allowed = first.day !== undefined && first.day === second.day ? erraticCelsius / 2 : erraticCelsius;
    return Math.abs(a - b) > allowed + 1e-9 ? [[first, second] as const] : [];
  });
}
