import type { CheckInterval } from '../quantities/check-interval.js';
import { readingJarSpan } from './uncovered-jars.js';
import { formatSpans, intersectSpans, type JarSpan, mergeSpans, jarsInSpans, subtractSpans } from './jar-spans.js';
import type { TakenReading } from '../quantities/reading-time.js';
import type { Gap } from '../rules/finding-evidence.js';

/** A reading with the jars that it names (`own`). It was taken in the last of them, when that was capped. */
export interface NumberedReading<R> {
  readonly reading: R;
  readonly own: JarSpan;
}

/** Readings that name their jars, in the order of their jars. */
export function orderedByJars<R extends { readonly fill: TakenReading }>(readings: readonly R[]): NumberedReading<R>[] {
  return readings
    .flatMap((reading) => {
      const own = readingJarSpan(reading.fill);
      return own ? [{ reading, own }] : [];
    })
    .sort((a, b) => a.own.to - b.own.to || a.own.from - b.own.from);
}

/** The jars that each reading covers: from the jar after the previous reading to its own last jar. */
export function coveredJars<R extends { readonly fill: TakenReading }>(
  readings: readonly R[],
): { readonly reading: R; readonly jars: JarSpan }[] {
  const inOrder = orderedByJars(readings);
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
export function jarsHeldBy<R extends { readonly fill: TakenReading }>(
  failing: R,
  passing: readonly R[],
  jarsMade: number,
): JarSpan | undefined {
  const own = readingJarSpan(failing.fill);
  if (!own || own.from > jarsMade) return undefined;
  const inOrder = orderedByJars(passing);
  const before = inOrder.findLast((each) => each.own.to < own.to)?.own.to ?? 0;
  const next = inOrder.find((each) => each.own.to > own.to)?.own;
  const until = next === undefined ? jarsMade : next.from > own.to ? next.from - 1 : next.to - 1;
  return { from: Math.min(own.from, before + 1), to: Math.max(own.to, until) };
}

/** Jars of a finished pack that no reading covers, and gaps between readings longer than the sugarhouse’s interval. */
export interface Gaps {
  /** Also those before the jars that a reading names as a range, though the interval is counted from the one before. */
  readonly uncovered: readonly JarSpan[];
  /** The gaps beyond the interval; empty where there are none. */
  readonly gaps: readonly Gap[];
  /** The gaps as sentences. */
  readonly gapTexts: readonly string[];
  /** The jars in the gaps, where every reading names its jars. */
  readonly jars: readonly JarSpan[] | undefined;
}

/** Finds the jars that no reading covers, and readings further apart than the interval. `exempt` jars need no reading. */
export function findGaps(
  readings: readonly { readonly fill: TakenReading }[],
  jarsMade: number,
  interval: CheckInterval,
  exempt: readonly JarSpan[] = [],
): Gaps {
  const covered = coveredJars(readings);
  const all = [{ from: 1, to: jarsMade }];
  const uncovered = subtractSpans(all, mergeSpans([...namedJars(readings), ...exempt]));
  if (covered.length === 0)
    return { uncovered, ...withGapTexts(gapsWithoutNumbers(readings, jarsMade, interval)), jars: undefined };
  if (interval.jars === undefined)
    return { uncovered, ...withGapTexts(gapsByClock(readings, interval)), jars: undefined };
  const most = interval.jars;
  const afterLast = subtractSpans(all, mergeSpans([...covered.map(({ jars }) => jars), ...exempt]));
  const tooLong = [...covered.map(({ jars }) => jars), ...afterLast]
    .flatMap((span) => subtractSpans([span], exempt))
    .filter((span) => jarsInSpans([span]) > most);
  const gaps = tooLong.map((span) => gapOf(span, afterLast));
  return { uncovered, ...withGapTexts(gaps, uncovered), jars: mergeSpans(tooLong) };
}

/** A reading of `jars 9-16` covers those alone; one of `jar 16` was taken there for all since the reading before it. */
const namedJars = (readings: readonly { readonly fill: TakenReading }[]): JarSpan[] =>
  coveredJars(readings).map(({ reading, jars }) => {
    const own = readingJarSpan(reading.fill);
    return own && own.from < own.to ? own : jars;
  });

const gapOf = ({ from, to }: JarSpan, afterLast: readonly JarSpan[]): Gap => {
  const isUnread = afterLast.some((each) => each.from === from && each.to === to);
  return { by: 'jars', from, to, readings: isUnread ? 0 : 1 };
};

const withGapTexts = (gaps: readonly Gap[], uncovered: readonly JarSpan[] = []): Pick<Gaps, 'gaps' | 'gapTexts'> => ({
  gaps,
  gapTexts: gaps.map((gap) => formatGap(gap, uncovered)),
});

function formatGap(gap: Gap, uncovered: readonly JarSpan[]): string {
  switch (gap.by) {
    case 'jars': {
      const unread = gap.readings === 0 ? [] : intersectSpans([gap], uncovered);
      const read = subtractSpans([gap], unread);
      if (unread.length > 0 && read.length > 0)
        return `no reading for ${formatSpans(unread)} and ${formatReadingCount(gap.readings)} for ${formatSpans(read)}`;
      return `${formatReadingCount(gap.readings)} for jars ${gap.from}–${gap.to}`;
    }
    case 'time':
      return `no reading for ${gap.minutes} min, from ${gap.from} to ${gap.to}`;
    case 'count':
      return `${formatReadingCount(gap.readings)} for ${gap.jars} jars, and no jar numbers`;
  }
}

const formatReadingCount = (readings: number): string =>
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
  const tooLong = gapsByClock(readings, interval);
  if (tooLong.length > 0 || readings.every(({ fill }) => fill.clock !== undefined)) return tooLong;
  if (interval.jars === undefined || jarsMade <= readings.length * interval.jars) return [];
  return [{ by: 'count', jars: jarsMade, readings: readings.length }];
}

function gapsByClock(readings: readonly { readonly fill: TakenReading }[], { minutes }: CheckInterval): Gap[] {
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
