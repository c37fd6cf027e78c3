import { boilingRiseCelsius, boilingSource } from '#libs/syrup/science/boiling.js';
import { fahrenheitOf, type Length, type Pressure, type Temperature } from '#libs/syrup/quantities/quantities.js';
import { atmosphereSource, standardKilopascals, steamSource, waterBoilsCelsius } from '#libs/syrup/science/steam.js';
import {
  thermometerCorrection,
  thermometerSource,
  thermometerVerdict,
} from '#libs/syrup/instruments/thermometer-check.js';
import { optional, required } from '../record/fields.js';
import { invalid, type Refusal } from '../record/problem.js';
import {
  anyTemperature,
  boilingWater,
  bothDegrees,
  elevation,
  fixed,
  onlyDensity,
  pressure,
  defineCalculator,
  trueDensity,
} from './calculator.js';

/** The day's boiling point of water, given in one of three ways. */
export const boilingFields = {
  waterBoils: optional(boilingWater, {
    label: 'Water boils at',
    example: '211.2 F',
    hint: 'boiled today in your own pan, with the same thermometer: the best of the three',
  }),
  pressure: optional(pressure, {
    label: 'Barometer',
    example: '29.4 inHg',
    hint: 'station pressure, not reduced to sea level',
  }),
  elevation: optional(elevation, {
    label: 'Elevation',
    example: '1400 ft',
    hint: 'a usual day: weather moves it by a degree',
  }),
};

export interface BoilingInput {
  readonly waterBoils: Temperature | undefined;
  readonly pressure: Pressure | undefined;
  readonly elevation: Length | undefined;
}

/**
 * The boiling point of water in °C, from exactly one of: a reading, station pressure, elevation. A refusal where none
 * or several are given.
 */
export function boilingWaterOf(input: BoilingInput): { celsius: number; text: string; sources: string[] } | Refusal {
  const provided = [input.waterBoils, input.pressure, input.elevation].filter((way) => way !== undefined);
  if (provided.length !== 1)
    return invalid(
      'waterBoils',
      'one of three: where water boils today, the station pressure, or the elevation',
      provided.length === 0 ? 'none of them' : provided.map(({ typed }) => `"${typed}"`).join(' and '),
    );
  if (input.waterBoils)
    return {
      celsius: input.waterBoils.celsius,
      text: `Water boils at ${input.waterBoils.typed} in your pan`,
      sources: [],
    };
  if (input.pressure) {
    const celsius = waterBoilsCelsius(input.pressure.kilopascals);
    return {
      celsius,
      text: `At ${input.pressure.typed} station pressure water boils at ${bothDegrees(celsius)}`,
      sources: [steamSource],
    };
  }
  const metres = (input.elevation?.millimetres ?? 0) / 1000;
  const celsius = waterBoilsCelsius(standardKilopascals(metres));
  return {
    celsius,
    text: `At ${input.elevation?.typed ?? ''} on a usual day water boils at ${bothDegrees(celsius)}; half an inch of mercury moves it by 0.85 °F`,
    sources: [atmosphereSource, steamSource],
  };
}

export const finishCalculator = defineCalculator({
  name: 'finish',
  title: 'Today’s finishing temperature',
  fields: {
    ...boilingFields,
    density: required(trueDensity, { label: 'Density wanted', example: '66.9 Bx' }),
  },
  answer: ({ density, ...input }) => {
    const water = boilingWaterOf(input);
    if ('problem' in water) return water;
    const rise = boilingRiseCelsius(density.brix, water.celsius);
    const finish = water.celsius + rise;
    return {
      figures: {
        waterBoilsF: fahrenheitOf(water.celsius),
        waterBoilsC: water.celsius,
        finishF: fahrenheitOf(finish),
        finishC: finish,
        riseF: rise * 1.8,
      },
      sentences: [
        `${water.text}.`,
        `${density.typed} boils ${fixed(rise * 1.8)} ± 0.15 °F above that: test at ${bothDegrees(finish)}.`,
        onlyDensity,
      ],
      sources: [...water.sources, boilingSource],
    };
  },
});

export const thermometerCalculator = defineCalculator({
  name: 'thermometer',
  title: 'Is the thermometer right?',
  fields: {
    ice: optional(anyTemperature, {
      label: 'Read in ice water',
      example: '32.5 F',
      hint: 'crushed ice and a little water, stirred',
    }),
    boiling: optional(anyTemperature, { label: 'Read in boiling water', example: '210.5 F' }),
    pressure: boilingFields.pressure,
    elevation: boilingFields.elevation,
    reading: optional(anyTemperature, { label: 'A reading to correct', example: '181 F' }),
  },
  answer: ({ ice, boiling, pressure: barometer, elevation: height, reading }) => {
    if (!ice && !boiling) return invalid('ice', 'a reading in ice water, in boiling water, or both', 'nothing');
    const known = boiling
      ? boilingWaterOf({ waterBoils: undefined, pressure: barometer, elevation: height })
      : undefined;
    if (known && 'problem' in known)
      return invalid('pressure', 'the station pressure or the elevation, to know where water boils', 'nothing');
    const points = {
      iceReadCelsius: ice?.celsius,
      boilingReadCelsius: boiling?.celsius,
      waterBoilsCelsius: known?.celsius ?? 100,
    };
    const absurd = [
      ice && Math.abs(ice.celsius) > 15 ? ice : undefined,
      boiling && Math.abs(boiling.celsius - points.waterBoilsCelsius) > 15 ? boiling : undefined,
    ].find(Boolean);
    if (absurd)
      return invalid(
        absurd === ice ? 'ice' : 'boiling',
        'within 27 °F (15 °C) of what it should be: otherwise the thermometer is broken',
        `"${absurd.typed}"`,
      );
    const verdict = thermometerVerdict(points);
    const correctedC = reading ? reading.celsius + thermometerCorrection(points, reading.celsius).offsetCelsius : null;
    const add = (celsius: number | null): number | null => (celsius === null ? null : celsius * 1.8);
    return {
      figures: {
        addAtIceF: add(verdict.atIceCelsius),
        addAtBoilingF: add(verdict.atBoilingCelsius),
        within: verdict.within,
        correctedF: correctedC === null ? null : fahrenheitOf(correctedC),
        correctedC,
      },
      sentences: [
        verdict.within
          ? 'Within ±2 °F.'
          : 'Out by more than 2 °F: fill readings with it are judged after correction, both shown.',
        ...(known ? [`${known.text}.`] : []),
        ...(reading && correctedC !== null ? [`${reading.typed} on it is ${bothDegrees(correctedC)}.`] : []),
      ],
      sources: [thermometerSource, ...(known?.sources ?? [])],
    };
  },
});
