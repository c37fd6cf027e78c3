import { shownTooCold } from './evidence.js';
import type { Habits } from './habits.js';
import { hiddenSeason, type HiddenSeason, type Stops } from './hidden-season.js';
import { clearanceOf } from '#libs/syrup/rules/rules.js';
import { heldBack, verdictOf } from './judge-season.js';

/** Both kinds of error of the verdict over many seasons, in jars and in holds. */
export interface ErrorRate {
  readonly seasons: number;
  readonly packs: number;
  readonly jars: number;
  /** Truly under 180 °F when they were last capped. */
  readonly unsafeMade: number;
  /** Of these, sent out although the records showed it. There must be none. */
  readonly unsafeShownOut: number;
  /** Of these, sent out because no record could show it. */
  readonly unsafeUnseenOut: number;
  /** Packs held at any time whose held jars were all truly at 180 °F or above. */
  readonly needlessHolds: number;
  /** Packs held, at any time. */
  readonly holds: number;
  /** Readings that hold jars, by when the evidence existed. */
  readonly stops: Stops & {
    /** Packs held because nobody read a jar, which the quick form asks for. */
    readonly notRead: number;
    /** Packs read with a thermometer that its check before the first jar found wrong, as the quick form says. */
    readonly byWrongOne: number;
    /** Packs held in the end without a warning while filling: the check of the thermometer came later. */
    readonly shownLater: number;
    /** Of these three, packs with a held jar that was truly too cold. */
    readonly shownLaterTruly: number;
  };
  /**
   * How holds ended that were not caught at once: corrective actions that name their jars, and releases with a reason.
   */
  readonly cures: { readonly packedAgain: number; readonly destroyed: number; readonly released: number };
  /** Seeds of seasons in which an unsafe jar was sent out although the evidence showed it. */
  readonly failing: readonly number[];
}

const limit = 180;
const seasonEnd = '2026-06-01T00:00';

export function errorRate(firstSeed: number, many: number, habits: Habits = {}): ErrorRate {
  const all = { packs: 0, jars: 0, unsafeMade: 0, unsafeShownOut: 0, unsafeUnseenOut: 0, needlessHolds: 0, holds: 0 };
  const stops = {
    caughtHot: 0,
    caughtOnPaper: 0,
    leftCold: 0,
    leftOnPaper: 0,
    caughtTruly: 0,
    leftTruly: 0,
    pouredNear: 0,
    notRead: 0,
    byWrongOne: 0,
    shownLater: 0,
    shownLaterTruly: 0,
  };
  const cures = { packedAgain: 0, destroyed: 0, released: 0 };
  const failing: number[] = [];
  for (let seed = firstSeed; seed < firstSeed + many; seed++) {
    const season = hiddenSeason(seed, habits);
    const before = all.unsafeShownOut;
    for (const pack of season.packs) {
      const saved = heldBack(verdictOf(season, pack, seasonEnd, true), pack.jars);
      const shown = shownTooCold(season, pack);
      all.packs++;
      all.jars += pack.jars;
      pack.truly.forEach((degrees, index) => {
        if (degrees === undefined || degrees >= limit) return;
        all.unsafeMade++;
        if (saved.has(index + 1)) return;
        if (shown.has(index + 1)) all.unsafeShownOut++;
        else all.unsafeUnseenOut++;
      });
      const held = heldAtAnyTime(season, pack);
      if (held.size > 0) all.holds++;
      if (held.size > 0 && [...held].every((n) => (pack.trulyAtFirst[n - 1] ?? 0) >= limit)) all.needlessHolds++;
      for (const name of [
        'caughtHot',
        'caughtOnPaper',
        'leftCold',
        'leftOnPaper',
        'caughtTruly',
        'leftTruly',
        'pouredNear',
      ] as const)
        stops[name] += pack.stops[name];
      // A pack without a cold reading that is held at the end: by what was there when it was filled, or by a later check.
      const { leftCold, leftOnPaper } = pack.stops;
      if (leftCold + leftOnPaper === 0 && isHeldAtEnd(season, pack)) {
        const evening = rulesInTheEvening(season, pack);
        if (evening.includes('fill-not-read')) stops.notRead++;
        else if (evening.length > 0) stops.byWrongOne++;
        else stops.shownLater++;
        if ([...held].some((n) => (pack.trulyAtFirst[n - 1] ?? 0) < limit)) stops.shownLaterTruly++;
      }
      for (const { way, jars } of pack.actions)
        if (jars !== '') cures[way === 'destroyed' ? 'destroyed' : 'packedAgain']++;
      if (isOnlyPerhaps(season, pack)) cures.released++;
    }
    if (all.unsafeShownOut > before) failing.push(seed);
  }
  return { seasons: many, ...all, stops, cures, failing };
}

const isHeldAtEnd = (season: HiddenSeason, pack: HiddenSeason['packs'][number]): boolean =>
  verdictOf(season, pack, seasonEnd, false).findings.some(({ stop }) => stop);

const eveningOf = (pack: HiddenSeason['packs'][number]): string => `${pack.packedAt.slice(0, 10)}T12:00`;
const rulesInTheEvening = (season: HiddenSeason, pack: HiddenSeason['packs'][number]) =>
  verdictOf(season, pack, eveningOf(pack), false).findings.flatMap(({ stop, rule }) => (stop ? [rule] : []));

/** Whether it is held only by readings that a maker may release with a reason. */
function isOnlyPerhaps(season: HiddenSeason, pack: HiddenSeason['packs'][number]): boolean {
  const holds = verdictOf(season, pack, seasonEnd, true).findings.filter(({ stop }) => stop);
  return holds.length > 0 && holds.every(({ rule }) => clearanceOf(rule) === 'reason');
}

/** On the evening of the pack, and with every check of the season, before anyone acted. */
function heldAtAnyTime(season: HiddenSeason, pack: HiddenSeason['packs'][number]): ReadonlySet<number> {
  const atOnce = heldBack(verdictOf(season, pack, eveningOf(pack), false), pack.jars);
  const later = heldBack(verdictOf(season, pack, seasonEnd, false), pack.jars);
  return new Set([...atOnce, ...later]);
}
