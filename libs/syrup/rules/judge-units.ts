import { inOtherUnit } from '../quantities/other-unit.js';
import { newestAnswer, type QuestionAnswer } from '../contents/question-answers.js';
import type { PlaceRules } from '../labelling/places.js';
import type { Temperature } from '../quantities/quantities.js';
import { formatTemperature } from '../quantities/format-quantities.js';
import type { DensityFacts } from './density-limits.js';
import { judgeDensity } from './judge-density.js';
import { coldestInJar } from './judge-reading.js';
import { findingOf } from './rules.js';
import type { Finding } from './verdict.js';

/** °C. Syrup at 180 °F in a jar doesn’t come from a kettle as cold as this: common practice, no source. */
const coldestKettleC = 60;

/** °F of a room or a cooled sample; a hot sample is 80 °C or more. Common practice, no source. */
const roomF = { least: 50, most: 79 };

/** The temperatures of a pack, and the answers to questions about it. */
export interface TemperaturesOfPack {
  /** In the kettle or the filler. */
  readonly hotPackTemp?: Temperature | undefined;
  readonly fills: readonly Temperature[];
  readonly density?: DensityFacts | undefined;
  readonly answers: readonly QuestionAnswer[];
}

/** Holds for temperatures with a probably mistyped unit. */
export const judgeUnits = (facts: TemperaturesOfPack, place: PlaceRules): Finding[] => [
  ...coldKettle(facts),
  ...sampleUnit(facts, place),
];

/**
 * A kettle as cold as a room, or colder than the limit in the jar while a jar filled from it was read hotter: syrup only
 * cools on its way into the jar, so one of the two readings is wrong.
 */
function coldKettle({ hotPackTemp: hotPack, fills }: TemperaturesOfPack): Finding[] {
  if (!hotPack) return [];
  if (hotPack.celsius >= coldestKettleC) return colderThanItsJars(hotPack, fills);
  const meant = suggestOtherUnit(hotPack);
  return [
    findingOf('kettle-too-cold', {
      limit: 'a kettle of 140 °F (60 °C) or more, since jars are filled from it at 180 °F (82 °C)',
      found: `${formatTemperature(hotPack)} in the kettle${meant}`,
      wayOut:
        'Correct the temperature or its unit. If it was read at another time than the filling, a maker releases the lot with that reason; if the syrup was so cold, pour it back and pack it hot.',
      identity: { evidence: { kettle: formatTemperature(hotPack) } },
    }),
  ];
}

function colderThanItsJars(hotPack: Temperature, fills: readonly Temperature[]): Finding[] {
  const hottest = [...fills].sort((a, b) => b.celsius - a.celsius)[0];
  if (!hottest || hotPack.degrees >= coldestInJar[hotPack.unit]) return [];
  if (hottest.celsius <= hotPack.celsius + thermometersDifferC) return [];
  return [
    findingOf('kettle-too-cold', {
      limit: 'a kettle at least as hot as the jars filled from it',
      found: `${formatTemperature(hotPack)} in the kettle, ${formatTemperature(hottest)} in a jar filled from it`,
      wayOut:
        'Correct the reading that is wrong. If the kettle was read at another time than the filling, a maker releases the lot with that reason; if the jars were so cold, pour them back and pack them hot.',
      identity: { evidence: { kettle: formatTemperature(hotPack), jar: formatTemperature(hottest) } },
    }),
  ];
}

/** °C by which two thermometers that passed their checks may differ. */
const thermometersDifferC = 2 / 1.8;

/** `: did you mean 88 °C?`, where the other unit gives a temperature of hot syrup. */
function suggestOtherUnit(hotPack: Temperature): string {
  const other = inOtherUnit(hotPack);
  return other.celsius >= coldestKettleC && other.celsius <= 107.2 ? `: did you mean ${formatTemperature(other)}?` : '';
}

/**
 * A question about a sample such as `68 °C` in a pack whose other temperatures are in °F: mistyped for 68 °F it makes a
 * thin syrup pass. Raised only where the density fails with the other unit.
 */
function sampleUnit({ hotPackTemp, fills, density, answers }: TemperaturesOfPack, place: PlaceRules): Finding[] {
  const sample = density?.sampleAt;
  const others = [...(hotPackTemp ? [hotPackTemp] : []), ...fills];
  if (!density || !sample || others.length === 0 || others.some(({ unit }) => unit === sample.unit)) return [];
  const other = inOtherUnit(sample);
  if (sample.unit !== 'C' || sample.degrees < roomF.least || sample.degrees > roomF.most) return [];
  const isHeld = (facts: DensityFacts): boolean => judgeDensity(facts, place).findings.some(({ stop }) => stop);
  if (isHeld(density) || !isHeld({ ...density, sampleAt: other })) return [];
  const found = `the sample at ${formatTemperature(sample)}, the other temperatures in °${other.unit}: was it ${formatTemperature(other)}, at which this density doesn’t pass?`;
  const answer = newestAnswer(answers, found)?.answer;
  if (answer === 'no') return [];
  return [
    findingOf('unit-question', {
      limit: 'the unit of the sample’s temperature',
      found,
      wayOut:
        answer === 'yes'
          ? 'Correct the sample’s temperature; the density is then judged by it.'
          : 'Answer “no” if the unit is right; otherwise correct the sample’s temperature.',
    }),
  ];
}
