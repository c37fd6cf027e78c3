import { formatLimits } from '../jars/fill-holds.js';
import { type JudgedReading, formatReadingInFinding } from './judge-reading.js';
import type { Temperature } from '../quantities/quantities.js';
import { findingOf } from './rules.js';
import { formatTemperature } from '../quantities/format-quantities.js';
import type { Finding } from './verdict.js';

const hottest: Readonly<Record<Temperature['unit'], number>> = { F: 200, C: 93.3 };

/** An advisory for syrup over 200 °F in the kettle or the jars, in which sugar sand forms again. */
export function judgeTooHot(hotPack: Temperature | undefined, inJars: readonly JudgedReading[]): Finding[] {
  const hot = [
    ...(hotPack && hotPack.degrees > hottest[hotPack.unit] ? [`${formatTemperature(hotPack)} in the kettle`] : []),
    ...inJars
      .filter(({ unit, degrees }) => degrees > hottest[unit])
      .map((jar) => formatReadingInFinding(jar, inJars.length)),
  ];
  if (hot.length === 0) return [];
  const units = new Set([...(hotPack ? [hotPack.unit] : []), ...inJars.map(({ unit }) => unit)]);
  return [
    findingOf('too-hot-at-filling', {
      limit: `no more than ${formatLimits(hottest, units)} when filling`,
      found: `${hot.join('; ')}: sugar sand forms again, filter again`,
    }),
  ];
}
