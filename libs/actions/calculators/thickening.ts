import { boilingSource } from '#libs/syrup/science/boiling.js';
import { parseTemperature, type Parsed, type Temperature } from '#libs/syrup/quantities/quantities.js';
import { thickening, type PanReading, type Thickening } from '#libs/syrup/science/thickening.js';
import { required, splitList } from '../record/fields.js';
import { invalid } from '../record/problem.js';
import { boilingFields, boilingWaterOf } from './boiling.js';
import { bothDegrees, fixed, onlyDensity, defineCalculator, trueDensity } from './calculator.js';

export const thickeningCalculator = defineCalculator({
  name: 'thickening',
  title: 'When to draw off',
  fields: {
    readings: required(panReadings, {
      label: 'The pan, with the time',
      example: '215 F@20:10; 216.5 F@20:20',
      list: true,
      hint: 'two or more, oldest first; the last four are used',
    }),
    ...boilingFields,
    density: required(trueDensity, { label: 'Density wanted', example: '66.9 Bx' }),
  },
  answer: ({ readings, density, ...input }) => {
    const water = boilingWaterOf(input);
    if ('problem' in water) return water;
    const answer = thickening(readings, water.celsius, density.brix);
    if ('problem' in answer)
      return invalid(
        'readings',
        `readings that can be followed. ${answer.problem}`,
        `"${readings.map(({ typed }) => typed).join('; ')}"`,
      );
    return {
      figures: {
        brixNow: answer.brixNow,
        brixPerHour: answer.brixPerMinute * 60,
        minutesToDraw: answer.minutesToDraw,
        earliestMinutes: answer.earliestMinutes,
        latestMinutes: answer.latestMinutes,
        near: answer.near,
      },
      sentences: sentencesFor(answer, density.typed),
      sources: [...water.sources, boilingSource, 'thermometer in a rolling boil ±0.5 °F: common practice, no source'],
    };
  },
});

function sentencesFor(answer: Thickening, target: string): string[] {
  const { minutesToDraw, earliestMinutes, latestMinutes } = answer;
  const when =
    minutesToDraw === null
      ? 'The pan is not getting thicker: no time can be given.'
      : minutesToDraw === 0
        ? `It is at its finishing point for ${target} now.`
        : `${target} in about ${fixed(minutesToDraw, 0)} minutes: not before ${fixed(earliestMinutes, 0)}, ${latestMinutes === null ? 'the latest time is not known' : `by ${fixed(latestMinutes, 0)}`}.`;
  return [
    ...(answer.near ? ['NEAR DRAW-OFF. Do not leave the pan, test now: this is when pans are lost.'] : []),
    when,
    `About ${fixed(answer.brixNow)} °Bx now (${fixed(answer.brixNowLow)} to ${fixed(answer.brixNowHigh)}), finishing at ${bothDegrees(answer.finishCelsius)}.`,
    'True while the fire is even and no fresh sap comes in.',
    onlyDensity,
  ];
}

type TimedReading = PanReading & { readonly typed: string };

/** Parses `215 F@20:10; 216.5 F@20:20`: a time earlier than the one before is on the next day. */
export function panReadings(typed: string): Parsed<readonly TimedReading[]> {
  const readings: TimedReading[] = [];
  for (const part of splitList(typed)) {
    const [degrees = '', clock = ''] = part.split('@');
    const temperature: Parsed<Temperature> = parseTemperature(degrees);
    const time = /^\s*([01]?\d|2[0-3]):([0-5]\d)\s*$/.exec(clock);
    if (!temperature.value || !time)
      return { mismatch: { expected: 'a reading with its time, like 215 F@20:10', got: `"${part}"` } };
    let minutes = Number(time[1]) * 60 + Number(time[2]);
    const before = readings.at(-1)?.minutes;
    // More than twelve hours back means past midnight; less is a reading out of order, a fault.
    if (before !== undefined && before - minutes > 720) minutes += 1440;
    readings.push({ typed: part, minutes, celsius: temperature.value.celsius });
  }
  return { value: readings };
}
