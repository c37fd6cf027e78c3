import { wholePack } from '#libs/syrup/jars/fill-holds.js';
import { formatSpans, type JarSpan } from '#libs/syrup/jars/held-jars.js';
import { without } from '#libs/syrup/quantities/jar-spans.js';
import type { Finding, Verdict } from '#libs/syrup/rules/verdict.js';
import type { Judging } from './judging.js';

/**
 * What a correction, a voiding, jars written as destroyed or a late reading took away of a lot's holds, in a sentence: the lot waits for a maker's
 * release. Undefined where nothing was, or where other evidence did it.
 */
export function takenAway(
  { entryType, addedWhenFinished, isDispatch }: Pick<Judging, 'entryType' | 'addedWhenFinished' | 'isDispatch'>,
  before: Verdict | undefined,
  now: readonly Finding[],
): string | undefined {
  const holds = before?.findings.filter(({ stop }) => stop) ?? [];
  if (entryType === 'correct' || entryType === 'void') return byCorrection(holds, now);
  if (isDispatch && holds.length > 0 && !now.some(({ stop }) => stop))
    return `Its held jars were recorded as destroyed. It was: ${textOf(holds)}.`;
  return addedWhenFinished ? byLateReading(holds, now) : undefined;
}

function byCorrection(holds: readonly Finding[], now: readonly Finding[]): string | undefined {
  const isHeld = now.some(({ stop }) => stop);
  // While others remain, what was only not read yet is answered by reading it: that is no hold taken away.
  const gone = isHeld
    ? holds.filter(({ rule }) => !rule.endsWith('-not-read') && !now.some((each) => each.stop && each.rule === rule))
    : holds;
  if (gone.length === 0) return undefined;
  const rules = [...new Set(gone.map(({ rule }) => rule))].join(', ');
  return `A correction took ${rules} away. It was: ${textOf(gone)}.`;
}

/** The rules of the temperature in the jar: one more reading may take jars out of what a cold one holds. */
const ofFilling: readonly string[] = ['fill-temperature', 'fill-perhaps-hot-enough', 'thermometer-unreliable'];

/**
 * Readings that come in when all jars are filled and some are held: a cold jar isn't cured by a warm reading beside it,
 * nor by a pouring back that is added days later. While jars are being filled, both count at once.
 */
function byLateReading(holds: readonly Finding[], now: readonly Finding[]): string | undefined {
  const before = holds.filter(({ rule }) => ofFilling.includes(rule));
  const still = spansOf(now.filter(({ stop, rule }) => stop && ofFilling.includes(rule)));
  const left = without(spansOf(before), still);
  if (left.length === 0) return undefined;
  const which = left.some(({ to }) => to >= manyJars) ? 'a hold' : `${formatSpans(left)}`;
  return `Readings added when all jars were filled took ${which} away from what was held. It was: ${textOf(before)}.`;
}

const manyJars = 1_000_000;
const spansOf = (findings: readonly Finding[]): readonly JarSpan[] =>
  findings.flatMap(({ jars }) => jars ?? wholePack(null));

const textOf = (findings: readonly Finding[]): string => findings.map(({ found }) => found).join('; ');
