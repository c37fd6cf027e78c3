import type { CheckInterval } from '../quantities/check-interval.js';
import { type JarSpan, mergedSpans, spanOf } from './held-jars.js';
import { jarsIn, without } from '../quantities/jar-spans.js';
import type { TakenReading } from '../quantities/reading-time.js';
import type { Gap } from '../rules/finding-evidence.js';

/** A reading that names its jars. It was taken in the last of them, when that was capped. */
export interface NumberedReading<R> {
  readonly reading: R;
  readonly own: JarSpan;
}

/** Readings that name their jars, in the order of their jars. */
export function numbered<R extends { readonly fill: TakenReading }>(readings: readonly R[]): NumberedReading<R>[] {
  return readings
    .flatMap((reading) => {
      const own = spanOf(reading.fill);
      return own ? [{ reading, own }] : [];
    })
    .sort((a, b) => a.own.to - b.own.to || a.own.from - b.own.from);
}

/** The jars that each reading covers: those after the reading before it, up to its own. */
export function coverage<R extends { readonly fill: TakenReading }>(
  readings: readonly R[],
): { readonly reading: R; readonly jars: JarSpan }[] {
  const inOrder = numbered(readings);
  return inOrder.map(({ reading, own }, index) => {
    const before = inOrder.slice(0, index).findLast((each) => each.own.to < own.to)?.own.to ?? 0;
    return { reading, jars: { from: Math.min(own.from, before + 1), to: own.to } };
  });
}

/**
 * The jars that a failing reading holds: back to the last passing one and on to the next. A passing reading that names
 * the failing reading's own jar clears only the jar it was taken in. Undefined where the reading doesn't name its jars,
 * or names some that the pack doesn't have: then the cold jar isn't known.
 */
export function heldBy<R extends { readonly fill: TakenReading }>(
  failing: R,
  passing: readonly R[],
  jarsMade: number,
): JarSpan | undefined {
  const own = spanOf(failing.fill);
  if (!own || own.from > jarsMade) return undefined;
  const inOrder = numbered(passing);
  const before = inOrder.findLast((each) => each.own.to < own.to)?.own.to ?? 0;
  const next = inOrder.find((each) => each.own.to > own.to)?.own;
  const until = next === undefined ? jarsMade : next.from > own.to ? next.from - 1 : next.to - 1;
  return { from: Math.min(own.from, before + 1), to: Math.max(own.to, until) };
}

/**
 * Which jars of a finished pack no reading covers, and where readings are further apart than the sugarhouse's interval.
 */
export interface Gaps {
  readonly uncovered: readonly JarSpan[];
  /** The gaps beyond the interval; empty where there are none. */
  readonly gaps: readonly Gap[];
  /** The same as text. */
  readonly beyond: readonly string[];
  /** The jars concerned, where every reading names its jars. */
  readonly jars: readonly JarSpan[] | undefined;
}

/** Jars that no reading covers, and readings further apart than the interval; jars in `prepared` need no reading. */
export function gapsOf(
  readings: readonly { readonly fill: TakenReading }[],
  jarsMade: number,
  interval: CheckInterval,
  exempt: readonly JarSpan[] = [],
): Gaps {
  const covered = coverage(readings);
  const all = [{ from: 1, to: jarsMade }];
  const uncovered = without(all, mergedSpans([...covered.map(({ jars }) => jars), ...exempt]));
  if (covered.length === 0)
    return { uncovered, ...inText(gapsWithoutNumbers(readings, jarsMade, interval)), jars: undefined };
  if (interval.jars === undefined) return { uncovered, ...inText(byClock(readings, interval)), jars: undefined };
  const most = interval.jars;
  const far = [...covered.map(({ jars }) => jars), ...uncovered]
    .flatMap((span) => without([span], exempt))
    .filter((span) => jarsIn([span]) > most);
  return { uncovered, ...inText(far.map((span) => gapOf(span, uncovered))), jars: mergedSpans(far) };
}

const gapOf = ({ from, to }: JarSpan, uncovered: readonly JarSpan[]): Gap => {
  const isUncovered = uncovered.some((each) => each.from === from && each.to === to);
  return { by: 'jars', from, to, readings: isUncovered ? 0 : 1 };
};

const inText = (gaps: readonly Gap[]): Pick<Gaps, 'gaps' | 'beyond'> => ({ gaps, beyond: gaps.map(gapInText) });

function gapInText(gap: Gap): string {
  switch (gap.by) {
    case 'jars':
      return `${readingsInText(gap.readings)} for jars ${gap.from}–${gap.to}`;
    case 'time':
      return `no reading for ${gap.minutes} min, from ${gap.from} to ${gap.to}`;
    case 'count':
      return `${readingsInText(gap.readings)} for ${gap.jars} jars, and no jar numbers`;
  }
}

const readingsInText = (readings: number): string =>
  readings === 0 ? 'no reading' : readings === 1 ? 'one reading' : `${readings} readings`;

/**
 * Without jar numbers a reading covers only its own jar; the distance of readings is then judged by their times, or by
 * their number.
 */
function gapsWithoutNumbers(
  readings: readonly { readonly fill: TakenReading }[],
  jarsMade: number,
  interval: CheckInterval,
): Gap[] {
  if (readings.length === 0) return [];
  const far = byClock(readings, interval);
  if (far.length > 0 || readings.every(({ fill }) => fill.clock !== undefined)) return far;
  if (interval.jars === undefined || jarsMade <= readings.length * interval.jars) return [];
  return [{ by: 'count', jars: jarsMade, readings: readings.length }];
}

function byClock(readings: readonly { readonly fill: TakenReading }[], { minutes }: CheckInterval): Gap[] {
  if (minutes === undefined) return [];
  const timed = readings
    .flatMap(({ fill }) =>
      fill.clock !== undefined && fill.atMs !== undefined ? [{ clock: fill.clock, ms: fill.atMs }] : [],
    )
    .sort((a, b) => a.ms - b.ms);
  return timed.flatMap((each, index) => {
    const before = timed[index - 1];
    const apart = before ? Math.round((each.ms - before.ms) / 60_000) : 0;
    return before && apart > minutes ? [{ by: 'time', minutes: apart, from: before.clock, to: each.clock }] : [];
  });
}
