import { errorRate } from '../simulation/error-rate.js';
import type { Measured } from './bench.js';

export const name = 'seasons: both errors of the verdict over invented seasons with a hidden truth';

const asked = Number(process.env['BOILBOOK_BENCH_SEASONS'] ?? 10_000);

/** The ratio is of needless holds a season; one unsafe jar that the record showed and that is out misses the goal at once. */
export function run(): Promise<Measured> {
  const began = performance.now();
  const rate = errorRate(1, asked);
  const seconds = (performance.now() - began) / 1000;
  const needless = rate.needlessHolds / rate.seasons;
  const { stops } = rate;
  const could = stops.caughtHot + stops.leftCold;
  return Promise.resolve({
    ratio: rate.unsafeShownOut > 0 ? Infinity : needless,
    goal: 1,
    lines: [
      `${rate.seasons} seasons, ${rate.packs} packs, ${rate.jars} jars in ${seconds.toFixed(0)} s`,
      `jars truly under 180 °F when capped: ${rate.unsafeMade}`,
      `of these out though the record showed it: ${rate.unsafeShownOut} (goal 0)${rate.failing.length > 0 ? `, seeds ${rate.failing.slice(0, 20).join(', ')}` : ''}`,
      `of these out because no record could show it: ${rate.unsafeUnseenOut} (${((100 * rate.unsafeUnseenOut) / rate.jars).toFixed(2)} % of all jars)`,
      `packs held: ${rate.holds}; of these for nothing: ${rate.needlessHolds}, ${needless.toFixed(2)} a season (goal 1)`,
      `stops that the pad could say while the syrup was hot: ${could}; of these caught then: ${stops.caughtHot}, ${percent(stops.caughtHot, could)} (goal 80; that one in twelve does nothing is an assumption of the seasons)`,
      `stops whose evidence came later: ${stops.fromPaper} written from paper after the pack, ${stops.byLaterCheck} packs shown by a later check of the thermometer; caught hot of all together: ${percent(stops.caughtHot, could + stops.fromPaper + stops.byLaterCheck)}`,
    ],
  });
}

const percent = (part: number, whole: number): string => `${((100 * part) / Math.max(1, whole)).toFixed(0)} %`;
