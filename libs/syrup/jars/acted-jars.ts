import { mergedSpans, spanOf, type JarSpan } from './held-jars.js';
import { jarsIn, within, without } from '../quantities/jar-spans.js';
import { heldBy } from './jar-coverage.js';
import { type JudgedReading, judgeReadings } from '../rules/judge-reading.js';
import { listedReadings } from './poured-back.js';
import type { TakenReading } from '../quantities/reading-time.js';
import type { Thermometer } from '../instruments/thermometers.js';

/** What a corrective action did with the jars that it names. */
export interface JarsActedOn {
  /** `packed-again` is any action whose new readings replace those of the jars. */
  readonly how: 'packed-again' | 'poured-back' | 'destroyed' | 'inspected';
  readonly jars: readonly JarSpan[];
  readonly fills: readonly TakenReading[];
  /** Its jars or its cause were not recorded: it clears nothing, but what it found wrong still counts. */
  readonly clearsNothing?: boolean;
  /** Who did it, and when. */
  readonly by?: string;
  readonly at?: string;
}

/** Whether it takes its jars off sale for good. */
export const takesOffSale = ({ how, clearsNothing }: JarsActedOn): boolean =>
  !clearsNothing && (how === 'poured-back' || how === 'destroyed');

/** The judged readings of an action, and the jars they clear. */
export interface JudgedAction {
  readonly action: JarsActedOn;
  readonly readings: readonly JudgedReading[];
  readonly cleared: readonly JarSpan[];
}

/** The most jars before its own that a corrective reading clears, where the sugarhouse has no interval. */
const usualReach = 12;

/** Judges the readings of a corrective action, and finds the jars they clear: none unless they were packed again. */
export function judgeAction(
  action: JarsActedOn,
  thermometers: readonly Thermometer[],
  passes: (reading: JudgedReading) => boolean,
  reach = usualReach,
): JudgedAction {
  const active = listedReadings(action.fills).flatMap((each) => (each.pouredBackAt === undefined ? [each.fill] : []));
  const readings = judgeReadings(active, thermometers);
  if (action.clearsNothing || action.how !== 'packed-again') return { action, readings, cleared: [] };
  return { action, readings, cleared: clearedBy(action.jars, readings, passes, reach) };
}

/**
 * The jars of an action that its readings clear: each reading clears those since the reading before it, at most the
 * sugarhouse's interval, so that one passing reading doesn't clear a long row of jars. Readings without jar numbers
 * clear nothing, unless there is exactly one per jar.
 */
function clearedBy(
  jars: readonly JarSpan[],
  readings: readonly JudgedReading[],
  passes: (reading: JudgedReading) => boolean,
  reach: number,
): JarSpan[] {
  if (readings.length > 0 && readings.every(({ fill }) => fill.jars === undefined))
    return readings.length === jarsIn(jars) && readings.every(passes) ? [...jars] : [];
  const passing = readings.filter(passes);
  const failing = readings.filter((each) => !passes(each));
  const cleared = jars.flatMap((span) => {
    const own = passing
      .flatMap(({ fill }) => spanOf(fill) ?? [])
      .filter(({ from, to }) => from >= span.from && to <= span.to)
      .sort((a, b) => a.to - b.to);
    return own.map(({ to }, index) => ({
      from: Math.max((own[index - 1]?.to ?? span.from - 1) + 1, to - reach + 1),
      to,
    }));
  });
  const held = failing.flatMap((each) => heldWithin(each, passing, jars));
  return without(
    cleared.filter(({ from, to }) => to >= from),
    held,
  );
}

/** The jars of an action that one of its readings holds: all of them where it names none. */
export function heldWithin(
  failing: JudgedReading,
  passing: readonly JudgedReading[],
  jars: readonly JarSpan[],
): JarSpan[] {
  const held = heldBy(failing, passing, Infinity);
  if (!held) return [...jars];
  const own = within(jars, [held]);
  // A cold jar that the action doesn't name stays cold, and the jars that it names have too few readings.
  return own.length > 0 ? own : mergedSpans([...jars, held]);
}
