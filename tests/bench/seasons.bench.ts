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
  return Promise.resolve({
    ratio: rate.unsafeShownOut > 0 ? Infinity : needless,
    goal: 1,
    lines: [
      `${rate.seasons} seasons, ${rate.packs} packs, ${rate.jars} jars in ${seconds.toFixed(0)} s`,
      `jars truly under 180 °F when capped: ${rate.unsafeMade}`,
      `of these out though the record showed it: ${rate.unsafeShownOut} (goal 0)${rate.failing.length > 0 ? `, seeds ${rate.failing.slice(0, 20).join(', ')}` : ''}`,
      `of these out because no record could show it: ${rate.unsafeUnseenOut} (${((100 * rate.unsafeUnseenOut) / rate.jars).toFixed(2)} % of all jars)`,
      `packs held: ${rate.holds}; of these for nothing: ${rate.needlessHolds}, ${needless.toFixed(2)} a season (goal 1)`,
      `cold readings acted on while the syrup was hot: ${rate.caughtHot} of ${rate.coldSeen}, ${((100 * rate.caughtHot) / Math.max(1, rate.coldSeen)).toFixed(0)} % (goal 80; who acts at once is an assumption of the seasons)`,
    ],
  });
}
