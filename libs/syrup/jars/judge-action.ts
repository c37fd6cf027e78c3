import { readingJarSpan } from './uncovered-jars.js';
import { mergeSpans, type JarSpan, jarsInSpans, intersectSpans, subtractSpans } from './jar-spans.js';
import { jarsHeldBy } from './jar-coverage.js';
import { type JudgedReading, judgeReadings } from '../rules/judge-reading.js';
import { listedReadings } from './poured-back.js';
import type { TakenReading } from '../quantities/reading-time.js';
import type { Thermometer } from '../instruments/thermometers.js';

/** A corrective action, with the jars that it names and their new readings. */
export interface JarAction {
  /** `packed-again` is any action whose new readings replace those of the jars. */
  readonly how: 'packed-again' | 'poured-back' | 'destroyed' | 'inspected';
  readonly jars: readonly JarSpan[];
  readonly fills: readonly TakenReading[];
  /** Its jars or its cause were not recorded: it clears no hold, but its failing readings still hold jars. */
  readonly clearsNothing?: boolean;
  /** Who did it, and when. */
  readonly by?: string;
  readonly at?: string;
}

/** Whether an action takes its jars off sale for good. */
export const takesOffSale = ({ how, clearsNothing }: JarAction): boolean =>
  !clearsNothing && (how === 'poured-back' || how === 'destroyed');

/** The judged readings of an action, and the jars they clear. */
export interface JudgedAction {
  readonly action: JarAction;
  readonly readings: readonly JudgedReading[];
  readonly cleared: readonly JarSpan[];
}

/** The most jars before its own that a corrective reading clears, where the sugarhouse has no interval. */
const defaultReach = 12;

/** Judges the readings of a corrective action, and finds the jars they clear: none unless they were packed again. */
export function judgeAction(
  action: JarAction,
  thermometers: readonly Thermometer[],
  passes: (reading: JudgedReading) => boolean,
  reach = defaultReach,
): JudgedAction {
  const active = listedReadings(action.fills).flatMap((each) => (each.pouredBackAt === undefined ? [each.fill] : []));
  const readings = judgeReadings(active, thermometers);
  if (action.clearsNothing || action.how !== 'packed-again') return { action, readings, cleared: [] };
  return { action, readings, cleared: clearedJars(action.jars, readings, passes, reach) };
}

/**
 * The jars of an action that its readings clear: each reading clears those since the reading before it, at most the
 * sugarhouse's interval, so that one passing reading doesn't clear a long row of jars. Readings without jar numbers
 * clear nothing, unless there is exactly one per jar.
 */
function clearedJars(
  jars: readonly JarSpan[],
  readings: readonly JudgedReading[],
  passes: (reading: JudgedReading) => boolean,
  reach: number,
): JarSpan[] {
  if (readings.length > 0 && readings.every(({ fill }) => fill.jars === undefined))
    return readings.length === jarsInSpans(jars) && readings.every(passes) ? [...jars] : [];
  const passing = readings.filter(passes);
  const failing = readings.filter((each) => !passes(each));
  const cleared = jars.flatMap((span) => {
    const own = passing
      .flatMap(({ fill }) => readingJarSpan(fill) ?? [])
      .filter(({ from, to }) => from >= span.from && to <= span.to)
      .sort((a, b) => a.to - b.to);
    return own.map(({ to }, index) => ({
      from: Math.max((own[index - 1]?.to ?? span.from - 1) + 1, to - reach + 1),
      to,
    }));
  });
  const held = failing.flatMap((each) => jarsOfActionHeldBy(each, passing, jars));
  return subtractSpans(
    cleared.filter(({ from, to }) => to >= from),
    held,
  );
}

/** The jars of an action that one of its readings holds: all of them where it names none. */
export function jarsOfActionHeldBy(
  failing: JudgedReading,
  passing: readonly JudgedReading[],
  jars: readonly JarSpan[],
): JarSpan[] {
  const held = jarsHeldBy(failing, passing, Infinity);
  if (!held) return [...jars];
  const own = intersectSpans(jars, [held]);
  // A failing jar outside the action's jars is held too, and so are all jars of the action, whose readings miss them.
  return own.length > 0 ? own : mergeSpans([...jars, held]);
}
