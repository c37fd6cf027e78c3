import {
  type JarAction,
  type JudgedAction,
  jarsOfActionHeldBy,
  judgeAction,
  takesOffSale,
} from '../jars/judge-action.js';
import type { CheckInterval } from '../quantities/check-interval.js';
import { whyUnreliable } from '../instruments/suspect-reading.js';
import { type FillHold, holdFinding, notReadFinding, wholePack } from '../jars/fill-holds.js';
import { type Gaps, findGaps, jarsHeldBy } from '../jars/jar-coverage.js';
import { readingJarSpan } from '../jars/uncovered-jars.js';
import { type JarSpan, mergeSpans, coversSpans, intersectSpans, subtractSpans } from '../jars/jar-spans.js';
import { type JudgedReading, judgeReadings } from './judge-reading.js';
import { type ListedReading, listedReadings } from '../jars/poured-back.js';
import type { Temperature } from '../quantities/quantities.js';
import type { TakenReading } from '../quantities/reading-time.js';
import { findingOf } from './rules.js';
import type { Thermometer } from '../instruments/thermometers.js';
import type { Finding } from './verdict.js';

/** What the fill readings of a pack are judged by. */
export interface FillFacts {
  readonly fills: readonly TakenReading[];
  /** Null while jars are being filled. */
  readonly jars: number | null;
  readonly thermometers: readonly Thermometer[];
  readonly actions: readonly JarAction[];
  /** How often the sugarhouse reads a jar; if absent, the distance of readings isn't judged. */
  readonly interval?: CheckInterval | undefined;
  /** The sugarhouse chose to hold jars between readings too far apart. */
  readonly gapsHold?: boolean | undefined;
}

/** The findings of a pack’s fill readings. */
export interface JudgedFill {
  readonly findings: readonly Finding[];
  /** The coldest reading that still applies to a jar, as typed; coldest after correction. */
  readonly lowest: Temperature | null;
  /** The readings that still apply to a jar. */
  readonly readings: readonly JudgedReading[];
  /** Jars that no reading covers. */
  readonly uncovered: readonly JarSpan[];
  /** Jars that a corrective action poured back or destroyed: off sale for good. */
  readonly gone: readonly JarSpan[];
}

/** Judges every reading in the jar, with the jars it covers, and the corrective actions on them. */
export function judgeFill(facts: FillFacts): JudgedFill {
  const { thermometers, jars } = facts;
  const whole = wholePack(jars);
  const listed = listedReadings(facts.fills);
  const judged = judgeReadings(
    listed.map(({ fill }) => fill),
    thermometers,
  );
  const active = judged.filter((_, index) => listed[index]?.pouredBackAt === undefined);
  const passing = active.filter(passes);
  const actions = facts.actions.map((each) => judgeAction(each, thermometers, passes, facts.interval?.jars));
  const gone = intersectSpans(mergeSpans(facts.actions.filter(takesOffSale).flatMap((each) => each.jars)), whole);

  const clearedAfter = (layer: number): JarSpan[] =>
    mergeSpans([...gone, ...actions.slice(layer).flatMap(({ cleared }) => cleared)]);
  const clearedJars = clearedAfter(0);
  const holds = [
    ...active.flatMap((reading) =>
      holdOf(reading, judged.length, jars === null ? undefined : jarsHeldBy(reading, passing, jars)),
    ),
    ...actions.flatMap((action, layer) => actionHolds(action).map((hold) => ({ ...hold, layer: layer + 1 }))),
  ].flatMap(({ layer = 0, ...hold }) => {
    const left = subtractSpans(hold.jars ? intersectSpans(hold.jars, whole) : whole, clearedAfter(layer));
    return left.length > 0 ? [{ ...hold, jars: left }] : [];
  });
  const areOfOtherJars = jars !== null && active.length > 0 && active.every((each) => isBeyond(each, jars));
  const unread = subtractSpans(
    jars === null ? [] : areOfOtherJars ? whole : notRead(listed, passing, whole),
    clearedJars,
  );
  const stillApplying = [
    ...active.filter((each) => !coversSpans(clearedJars, jarsOfReading(each, whole))),
    ...actions.flatMap(({ readings }) => readings),
  ];
  const gaps =
    jars === null || !facts.interval || active.length === 0 || coversSpans(clearedJars, whole)
      ? undefined
      : findGaps(active, jars, facts.interval, clearedJars);
  return {
    findings: [
      ...(['fill-temperature', 'fill-perhaps-hot-enough', 'thermometer-unreliable'] as const).flatMap((rule) =>
        holdFinding(
          rule,
          holds.filter((hold) => hold.rule === rule),
          jars,
        ),
      ),
      ...(unread.length > 0
        ? [notReadFinding(unread, jars, areOfOtherJars ? 'beyond' : judged.length === 0 ? 'never' : 'not-again')]
        : []),
      ...(gaps && gaps.gapTexts.length > 0 ? [tooFarApart(facts, gaps)] : []),
    ],
    lowest: [...stillApplying].sort((a, b) => a.celsius - b.celsius)[0]?.fill.temperature ?? null,
    readings: stillApplying,
    uncovered: gaps?.uncovered ?? [],
    gone,
  };
}

/** Whether a reading names only jars that the pack doesn't have: it is of another pack, or its number is wrong. */
const isBeyond = ({ fill }: JudgedReading, jarsMade: number): boolean => (readingJarSpan(fill)?.from ?? 0) > jarsMade;

const passes = (reading: JudgedReading): boolean =>
  reading.outcome === 'hot enough' && whyUnreliable(reading) === undefined;

function holdOf(
  reading: JudgedReading,
  readingCount: number,
  jars: JarSpan | undefined,
): (FillHold & { layer?: number })[] {
  const held = { reading, readingCount, jars: jars && [jars] };
  if (reading.outcome === 'too cold') return [{ ...held, rule: 'fill-temperature' }];
  if (reading.outcome === 'perhaps') return [{ ...held, rule: 'fill-perhaps-hot-enough' }];
  const suspect = whyUnreliable(reading);
  return suspect ? [{ ...held, rule: 'thermometer-unreliable', suspect }] : [];
}

function actionHolds({ action, readings }: JudgedAction): FillHold[] {
  const passing = action.clearsNothing ? [] : readings.filter(passes);
  return readings.flatMap((reading) =>
    holdOf(reading, readings.length, undefined).map((hold) => ({
      ...hold,
      acted: action.at,
      jars: action.clearsNothing ? undefined : jarsOfActionHeldBy(reading, passing, action.jars),
    })),
  );
}

/** The jars of a finished pack without a reading: none was taken, or they were poured back and not read again. */
function notRead(
  listed: readonly ListedReading<TakenReading>[],
  passing: readonly JudgedReading[],
  whole: readonly JarSpan[],
): JarSpan[] {
  if (listed.length === 0) return [...whole];
  return mergeSpans(
    listed.flatMap(({ fill, pouredBackAt }) => {
      if (pouredBackAt === undefined) return [];
      const later = passing.filter(({ index }) => (listed[index]?.index ?? 0) > pouredBackAt);
      const own = readingJarSpan(fill);
      if (!own) return later.length > 0 ? [] : whole;
      const before = passing.filter((each) => !later.includes(each)).flatMap((each) => readingJarSpan(each.fill) ?? []);
      const from = Math.max(0, ...before.map(({ to }) => to).filter((to) => to < own.to)) + 1;
      const readTo = Math.max(0, ...later.flatMap((each) => readingJarSpan(each.fill)?.to ?? []));
      return intersectSpans(
        subtractSpans([{ from: Math.min(from, own.from), to: own.to }], [{ from: 1, to: readTo }]),
        whole,
      );
    }),
  );
}

/** The jars that a reading names, or the whole pack: when all of them are cleared, it no longer applies. */
const jarsOfReading = ({ fill }: JudgedReading, whole: readonly JarSpan[]): readonly JarSpan[] => {
  const own = readingJarSpan(fill);
  return own ? [own] : whole;
};

function tooFarApart(
  { interval, gapsHold, jars: jarsMade }: FillFacts,
  { gapTexts: beyond, jars, gaps }: Gaps,
): Finding {
  const limit = `a jar read every ${interval?.typed ?? ''}`;
  const found = beyond.join('; ');
  if (!gapsHold) return findingOf('jars-not-covered', { limit, found });
  return findingOf('readings-too-far-apart', {
    limit,
    found,
    ...(jars ? { jars } : {}),
    wayOut: 'A maker releases it with the reason; or pack those jars again hot and read them.',
    identity: {
      evidence: { everyJars: interval?.jars, everyMinutes: interval?.minutes, gaps },
      jars: jars ?? wholePack(jarsMade),
    },
  });
}
