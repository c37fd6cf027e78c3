import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';
import { readingJarSpan } from '#libs/syrup/jars/uncovered-jars.js';
import { overlapsSpans } from '#libs/syrup/jars/jar-spans.js';
import { readingTimeMs, type TakenReading } from '#libs/syrup/quantities/reading-time.js';
import { ordinal } from '#libs/syrup/quantities/format-quantities.js';
import { futureToleranceMinutes, notInFutureText } from '../record/fields.js';
import type { ParseOptions } from '../record/parse-options.js';
import type { Fault } from '../record/problem.js';

/** When readings of a pack can have been taken. */
export interface PackTimes {
  /** Time of the pack or corrective action that contains them: a clock time alone is on this day. */
  readonly at: string;
  /** When the pack was filled. Many record the time only when they have finished. */
  readonly packedAt: string;
  /** When the first boil that its syrup came from began; undefined for bought syrup. */
  readonly boilBegan?: { readonly code: string; readonly at: string } | undefined;
}

/**
 * A reading must be of jars that existed: not in the future, not before its syrup was boiled, nor half a day or more
 * before its pack. The half day is common practice, no source: it allows for a packing time recorded at the end.
 * Readings already in the record (`known`) are accepted as they are.
 */
export function readingTimeFaults(
  fills: readonly FillReading[],
  times: PackTimes,
  options: ParseOptions,
  previous: readonly FillReading[] = [],
): Fault[] {
  const saved = new Set(previous.map(({ typed }) => typed));
  return fills.flatMap(({ typed, clock }, index) => {
    const expected =
      clock === undefined || saved.has(typed)
        ? undefined
        : impossibleTimeText(readingTimeMs(clock, times.at), times, options);
    return expected === undefined
      ? []
      : [{ field: 'fillTemps', expected, got: `"${typed}" as the ${ordinal(index + 1)} reading`, item: index }];
  });
}

function impossibleTimeText(
  takenMs: number,
  { packedAt, boilBegan }: PackTimes,
  options: ParseOptions,
): string | undefined {
  if (takenMs > options.now.getTime() + futureToleranceMinutes * 60_000)
    return `${notInFutureText(options)} A reading of another day has its date, like ${datedExample}`;
  // Readings have minute precision, a boil begun by a tap has seconds.
  if (boilBegan && takenMs < Date.parse(boilBegan.at) - (Date.parse(boilBegan.at) % 60_000))
    return `a time after boil ${boilBegan.code} began, ${boilBegan.at}: is the time wrong, or the boil’s?`;
  if (takenMs < Date.parse(packedAt) - earliestBeforePackHours * 3_600_000)
    return `a time within ${earliestBeforePackHours} h before the pack, ${packedAt}, or after it: is the date wrong?`;
  return undefined;
}

/**
 * A jar packed again is read after its first reading: an earlier time is that of the first filling. Checked only where
 * both readings have a time and their jars.
 */
export function repeatedReadingFaults(
  repeated: readonly TakenReading[],
  first: readonly TakenReading[],
  previous: readonly FillReading[] = [],
): Fault[] {
  const saved = new Set(previous.map(({ typed }) => typed));
  return repeated.flatMap((fill, index) => {
    const own = readingJarSpan(fill);
    if (!own || fill.clock === undefined || saved.has(fill.typed)) return [];
    const earlier = first.find((each) => {
      const jars = readingJarSpan(each);
      return jars && each.clock !== undefined && overlapsSpans([own], jars) && (fill.atMs ?? 0) <= (each.atMs ?? 0);
    });
    if (!earlier) return [];
    const expected = `a time after ${earlier.typed}, when it was read at first: is the time wrong, or its date?`;
    return [{ field: 'fillTemps', expected, got: `"${fill.typed}" as the ${ordinal(index + 1)} reading` }];
  });
}

const earliestBeforePackHours = 12;
const datedExample = '184 F@2026-03-18T22:10';
