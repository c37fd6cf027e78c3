import { wholePack } from '#libs/syrup/jars/fill-holds.js';
import { formatSpans, type JarSpan, subtractSpans } from '#libs/syrup/jars/jar-spans.js';
import { missingFromRecord, ruleTitle } from '#libs/syrup/rules/rules.js';
import type { Finding, Verdict } from '#libs/syrup/rules/verdict.js';
import type { JudgingContext } from './judging-context.js';

/**
 * Which holds of a lot were removed by a correction, an addition, a voiding, jars recorded as destroyed or a late
 * reading, in a sentence: the lot then waits for a maker's release. Undefined where none was, or where other evidence
 * cleared them.
 */
export function removedHoldsText(
  { entryType, addedWhenFinished, isDispatch }: Pick<JudgingContext, 'entryType' | 'addedWhenFinished' | 'isDispatch'>,
  before: Verdict | undefined,
  now: readonly Finding[],
): string | undefined {
  const holds = before?.findings.filter(({ stop }) => stop) ?? [];
  if (entryType === 'correct' || entryType === 'void') return removedByCorrection(holds, now);
  const splinters = holds.filter(({ rule }) => rule === 'glass-poured-in');
  if (splinters.length > 0 && !now.some(({ stop, rule }) => stop && rule === 'glass-poured-in'))
    return `It was recorded since that jars with splinters were inspected or destroyed before they were poured in. It was: ${foundText(splinters)}.`;
  if (isDispatch && holds.length > 0 && !now.some(({ stop }) => stop))
    return `Its held jars were recorded as destroyed. It was: ${foundText(holds)}.`;
  const byReading = addedWhenFinished ? removedByLateReading(holds, now) : undefined;
  return byReading ?? (entryType === 'add' ? removedByAddition(holds, now) : undefined);
}

/**
 * Filling in a blank box clears what held for lack of it. A hold for something that was recorded (an off flavour, thin
 * syrup, another product) can vanish the same way, by another field or another place of the house, and then waits for a
 * release. The rules on the temperature in the jar have `removedByLateReading`.
 */
function removedByAddition(holds: readonly Finding[], now: readonly Finding[]): string | undefined {
  const removed = holds.filter(
    ({ rule }) =>
      missingFromRecord(rule) === undefined &&
      ![...fillTemperatureRules, 'held-upstream'].includes(rule) &&
      !now.some((each) => each.stop && each.rule === rule),
  );
  if (removed.length === 0) return undefined;
  const rules = [...new Set(removed.map(({ rule }) => ruleTitle(rule)))].join(', ');
  return `An addition removed a hold: ${rules}. Found before it: ${foundText(removed)}.`;
}

function removedByCorrection(holds: readonly Finding[], now: readonly Finding[]): string | undefined {
  const isHeld = now.some(({ stop }) => stop);
  // While other holds remain, a finding that only lacked a reading is cleared by the reading, and counts as no removal.
  const removed = isHeld
    ? holds.filter(
        ({ rule }) => missingFromRecord(rule) !== 'reading' && !now.some((each) => each.stop && each.rule === rule),
      )
    : holds;
  if (removed.length === 0) return undefined;
  const rules = [...new Set(removed.map(({ rule }) => ruleTitle(rule)))].join(', ');
  return `A later entry removed a hold: ${rules}. Found before it: ${foundText(removed)}.`;
}

/** Rules on the temperature in the jar: one more reading may narrow down which jars a cold one holds. */
const fillTemperatureRules: readonly string[] = [
  'fill-temperature',
  'fill-perhaps-hot-enough',
  'thermometer-unreliable',
];

/**
 * Readings recorded after all jars were filled, with some held: a warm reading beside a cold jar doesn't clear it, nor
 * does a pouring back that is added days later. While jars are being filled, both count at once.
 */
function removedByLateReading(holds: readonly Finding[], now: readonly Finding[]): string | undefined {
  const before = holds.filter(({ rule }) => fillTemperatureRules.includes(rule));
  const stillHeld = spansOf(now.filter(({ stop, rule }) => stop && fillTemperatureRules.includes(rule)));
  const released = subtractSpans(spansOf(before), stillHeld);
  if (released.length === 0) return undefined;
  const which = released.some(({ to }) => to >= manyJars) ? 'a hold' : `${formatSpans(released)}`;
  return `Readings added when all jars were filled took ${which} away from what was held. It was: ${foundText(before)}.`;
}

const manyJars = 1_000_000;
const spansOf = (findings: readonly Finding[]): readonly JarSpan[] =>
  findings.flatMap(({ jars }) => jars ?? wholePack(null));

const foundText = (findings: readonly Finding[]): string => findings.map(({ found }) => found).join('; ');
