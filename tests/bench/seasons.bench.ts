import { type ErrorRate, errorRate } from '../simulation/error-rate.js';
import type { Habits } from '../simulation/habits.js';
import { cureTaps } from '../support/cure-taps.js';
import type { Measured } from './bench.js';

export const name = 'seasons: both errors of the verdict over invented seasons with a hidden truth';

const asked = Number(process.env['BOILBOOK_BENCH_SEASONS'] ?? 10_000);

/**
 * The ratio counts needless holds per season; a single unsafe jar that was sent out although the record showed it
 * misses the goal.
 */
export function run(): Promise<Measured> {
  const began = performance.now();
  const rate = errorRate(1, asked);
  const seconds = (performance.now() - began) / 1000;
  const others = Math.ceil(asked / 10);
  const needless = rate.needlessHolds / rate.seasons;
  const { stops, cures } = rate;
  const caught = stops.caughtHot + stops.caughtOnPaper;
  const said = caught + stops.leftCold + stops.leftOnPaper;
  const all = said + stops.shownLater;
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
      `not caught: ${stops.leftCold + stops.leftOnPaper} that pad or sheet said and nobody heeded; ${stops.shownLater} packs that only a later check of the thermometer shows, which nothing can say in time; of those that could be said ${percent(caught, said)} were caught`,
      `of stops that held a jar truly too cold: ${truly(rate)}`,
      ...otherHabits.map(([text, habits]) => `${text}, ${others} seasons: ${habitsText(errorRate(1, others, habits))}`),
      'assumed, without a source: one person in twelve heeds nothing, one in two checks a thermometer when told that nobody did, one pack in ten is read on paper',
      `taps a stop, as measured in a browser (tests/browser/cure-taps): ${(taps / Math.max(1, ended)).toFixed(1)} on average; poured back at once ${cureTaps.pouredBackAtOnce.taps} (${caught} times), packed again later and released ${cureTaps.packedAgain.taps} (${cures.packedAgain}), destroyed and released ${cureTaps.destroyed.taps} (${cures.destroyed}), released with a reason ${cureTaps.released.taps} (${cures.released})`,
    ],
  });
}

/**
 * The assumptions behind the share: how many people follow the form's warnings, and how many check more than it asks.
 */
const otherHabits: readonly (readonly [string, Habits])[] = [
  ['nobody checks a thermometer when told that nobody did', { whenNeverChecked: 0 }],
  ['half of them do', { whenNeverChecked: 0.5 }],
  ['nine in ten do', { whenNeverChecked: 0.9 }],
  ['half check it before every pack', { whenNeverChecked: 0.5, beforeEveryPack: 0.5 }],
  ['nine in ten check it before every pack', { whenNeverChecked: 0.9, beforeEveryPack: 0.9 }],
  [
    'nine in ten check it before every pack, and all pour back what reads within 2 °F above the limit',
    { whenNeverChecked: 0.9, beforeEveryPack: 0.9, poursBackWithin: 2 },
  ],
];

function habitsText(rate: ErrorRate): string {
  const { caughtHot, caughtOnPaper, leftCold, leftOnPaper, shownLater } = rate.stops;
  const caught = caughtHot + caughtOnPaper;
  return `caught hot ${percent(caught, caught + leftCold + leftOnPaper + shownLater)} of all stops, ${truly(rate)} of those of a truly cold jar; out unseen ${rate.unsafeUnseenOut} jars, out though shown ${rate.unsafeShownOut}; needless holds ${(rate.needlessHolds / rate.seasons).toFixed(2)} a season`;
}

const truly = ({ stops: { caughtTruly, leftTruly, shownLaterTruly } }: ErrorRate): string =>
  percent(caughtTruly, caughtTruly + leftTruly + shownLaterTruly);

const percent = (part: number, whole: number): string => `${((100 * part) / Math.max(1, whole)).toFixed(0)} %`;
