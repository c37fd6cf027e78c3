import { inUnits } from '../jars/fill-holds.js';
import { type JudgedReading, readingInText } from './judge-reading.js';
import type { Temperature } from '../quantities/quantities.js';
import { findingOf } from './rules.js';
import { shown } from '../quantities/decimal-text.js';
import type { Finding } from './verdict.js';

const hottest: Readonly<Record<Temperature['unit'], number>> = { F: 200, C: 93.3 };

/** Sugar sand forms again in syrup over 200 °F, in the kettle or in the jar. */
export function judgeTooHot(hotPack: Temperature | undefined, inJars: readonly JudgedReading[]): Finding[] {
  const hot = [
    ...(hotPack && hotPack.degrees > hottest[hotPack.unit] ? [`${shown(hotPack)} in the kettle`] : []),
    ...inJars.filter(({ unit, degrees }) => degrees > hottest[unit]).map((jar) => readingInText(jar, inJars.length)),
  ];
  if (hot.length === 0) return [];
  const units = new Set([...(hotPack ? [hotPack.unit] : []), ...inJars.map(({ unit }) => unit)]);
  return [
    findingOf('too-hot-at-filling', {
      limit: `no more than ${inUnits(hottest, units)} when filling`,
      found: `${hot.join('; ')}: sugar sand forms again, filter again`,
    }),
  ];
}
