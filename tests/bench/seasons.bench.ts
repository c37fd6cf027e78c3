import { type ErrorRate, errorRate } from '../simulation/error-rate.js';
import type { Habits } from '../simulation/habits.js';
import { cureTaps } from '../support/cure-taps.js';
import type { Measured } from './bench.js';

export const name = 'seasons: both errors of the verdict over invented seasons with a hidden truth';

const requestedSeasons = Number(process.env['BOILBOOK_BENCH_SEASONS'] ?? 10_000);

/**
 * The ratio counts needless holds per season; a single unsafe jar that was sent out although the record showed it
 * misses the goal.
 */
export function run(): Promise<Measured> {
  const began = performance.now();
  const rate = errorRate(1, requestedSeasons);
  const seconds = (performance.now() - began) / 1000;
  const others = Math.ceil(requestedSeasons / 10);
  const needless = rate.needlessHolds / rate.seasons;
  const { stops, cures } = rate;
  const caught = stops.caughtHot + stops.caughtOnPaper;
  const all = stopsInAll(stops);
  const said = all - stops.shownLater;
  const ended = caught + cures.packedAgain + cures.destroyed + cures.released;
  const taps =
    caught * cureTaps.pouredBackAtOnce.taps +
    cures.packedAgain * cureTaps.packedAgain.taps +
    cures.destroyed * cureTaps.destroyed.taps +
    cures.released * cureTaps.released.taps;
  return Promise.resolve({
    ratio: rate.unsafeShownOut > 0 ? Infinity : needless,
    goal: 1,
    lines: [
      `${rate.seasons} seasons, ${rate.packs} packs, ${rate.jars} jars in ${seconds.toFixed(0)} s`,
      `jars truly under 180 °F when capped: ${rate.unsafeMade}`,
      `of these out though the record showed it: ${rate.unsafeShownOut} (goal 0)${rate.failing.length > 0 ? `, seeds ${rate.failing.slice(0, 20).join(', ')}` : ''}`,
      `of these out because no record could show it: ${rate.unsafeUnseenOut} (${((100 * rate.unsafeUnseenOut) / rate.jars).toFixed(2)} % of all jars)`,
      `packs held: ${rate.holds}; of these for nothing: ${rate.needlessHolds}, ${needless.toFixed(2)} a season (goal 1)`,
      `stops in all: ${all}; caught while the syrup was hot: ${caught}, ${percent(caught, all)} of all (goal 80): ${stops.caughtHot} by the pad, ${stops.caughtOnPaper} by the printed sheet`,
      `not caught: ${stops.leftCold + stops.leftOnPaper} that pad or sheet said and nobody heeded; ${stops.notRead} packs of which nobody read a jar; ${stops.byWrongOne} read by a thermometer that its check before the first jar found wrong, as the pad said; ${stops.shownLater} packs that only a later check of the thermometer shows, which nothing can say in time; of those that could be said ${percent(caught, said)} were caught`,
      `of stops that held a jar truly too cold: ${truly(rate)}`,
      `poured back besides, within 2 °F above the limit by a thermometer without a check that day: ${stops.pouredNear}`,
      ...byShare(others),
      ...otherHabits.map(([text, habits]) => `${text}, ${others} seasons: ${habitsText(errorRate(1, others, habits))}`),
      'assumed, without a source: one person in twelve heeds nothing; one in two, asked before the first jar for a check of a thermometer that has none that day, makes it, in ice or in boiling water, and the others tap Later; one in two pours back what is near the limit, sets right or changes a thermometer found wrong, reads the last jar where none was read; one pack in ten is read on paper, whose sheet asks for the same check',
      `taps a stop, as measured in a browser (tests/browser/cure-taps): ${(taps / Math.max(1, ended)).toFixed(1)} on average; poured back at once ${cureTaps.pouredBackAtOnce.taps} (${caught} times), packed again later and released ${cureTaps.packedAgain.taps} (${cures.packedAgain}), destroyed and released ${cureTaps.destroyed.taps} (${cures.destroyed}), released with a reason ${cureTaps.released.taps} (${cures.released})`,
    ],
  });
}

/** The share caught by how many make the check that the quick form asks for, and how many must for the goal. */
function byShare(seasons: number): string[] {
  const rates = Array.from({ length: 11 }, (_, n) => ({
    share: n / 10,
    rate: errorRate(1, seasons, { ifReminded: n / 10 }),
  }));
  const enough = rates.find(({ rate }) => caughtOfAll(rate) >= 0.8);
  return [
    ...rates.map(
      ({ share, rate }) => `${Math.round(share * 100)} in 100 make the check, ${seasons} seasons: ${habitsText(rate)}`,
    ),
    enough
      ? `the goal of 80 % is met where ${Math.round(enough.share * 100)} in 100 make it`
      : 'the goal of 80 % is met at none of these shares',
  ];
}

const caughtOfAll = ({ stops }: ErrorRate): number =>
  (stops.caughtHot + stops.caughtOnPaper) / Math.max(1, stopsInAll(stops));

const stopsInAll = ({ caughtHot, caughtOnPaper, ...missed }: ErrorRate['stops']): number =>
  caughtHot +
  caughtOnPaper +
  missed.leftCold +
  missed.leftOnPaper +
  missed.notRead +
  missed.byWrongOne +
  missed.shownLater;

/** What else the share rests on: where the check is made, and what is done with readings near the limit. */
const otherHabits: readonly (readonly [string, Habits])[] = [
  ['half, asked only of a thermometer that nobody checked in the season', { isRemindedOncePerSeason: true }],
  ['nine in ten, all in ice', { ifReminded: 0.9, inIce: 1 }],
  ['nine in ten, all in boiling water', { ifReminded: 0.9, inIce: 0 }],
  ['half, and nobody pours back what is near the limit', { whenNear: 0 }],
  ['half, and all pour back what is near the limit', { whenNear: 1 }],
  ['nine in ten, and nine in ten heed all else that the pad says', heeding(0.9)],
  ['all, and all heed all else that the pad says', heeding(1)],
];

function heeding(share: number): Habits {
  return { ifReminded: share, whenFoundWrong: share, whenNoneRead: share, whenNear: share };
}

function habitsText(rate: ErrorRate): string {
  return `caught hot ${percent(caughtOfAll(rate), 1)} of all stops, ${truly(rate)} of those of a truly cold jar; out unseen ${rate.unsafeUnseenOut} jars, out though shown ${rate.unsafeShownOut}; needless holds ${(rate.needlessHolds / rate.seasons).toFixed(2)} a season`;
}

const truly = ({ stops: { caughtTruly, leftTruly, shownLaterTruly } }: ErrorRate): string =>
  percent(caughtTruly, caughtTruly + leftTruly + shownLaterTruly);

const percent = (part: number, whole: number): string => `${((100 * part) / Math.max(1, whole)).toFixed(0)} %`;
