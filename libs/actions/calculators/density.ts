import { correctDensity, hydrometerReading, usualCalibrationCelsius } from '#libs/syrup/science/density.js';
import { millilitresIn } from '#libs/syrup/quantities/units.js';
import { refractometerSource } from '#libs/syrup/science/refractometer.js';
import { blend, boilDown, thinWith } from '#libs/syrup/science/blending.js';
import { sucroseSource, waterDensity } from '#libs/syrup/science/sucrose.js';
import { density, optional, required, withDefault, temperature } from '../record/fields.js';
import { invalid } from '../record/problem.js';
import { amount, fixed, flag, defineCalculator, positiveVolume, trueDensity, type Answer } from './calculator.js';

export const densityCalculator = defineCalculator({
  name: 'density',
  title: 'Correct a density reading to 20 °C',
  fields: {
    reading: required(density, {
      label: 'Reading',
      example: '60.4 Bx',
      hint: 'As the instrument shows it: °Bx, °Bé or SG',
    }),
    at: optional(temperature, {
      label: 'Temperature of the sample',
      example: '185 F',
      hint: 'read at the same moment',
    }),
    hydrometerAt: optional(temperature, { label: 'Hydrometer made for', example: '60 F', hint: '60 °F if blank' }),
    refractometer: withDefault(flag, false, {
      label: 'Read with a refractometer',
      hint: 'One without temperature compensation, at 10–30 °C',
    }),
    atc: withDefault(flag, false, { label: 'The refractometer compensates by itself' }),
  },
  answer: ({ reading, at, hydrometerAt, refractometer, atc }) => {
    const by = atc ? 'refractometer-atc' : refractometer ? 'refractometer' : 'hydrometer';
    if (hydrometerAt && by !== 'hydrometer')
      return invalid('hydrometerAt', 'a hydrometer or a refractometer, not both', `"${hydrometerAt.typed}"`);
    const answer = correctDensity({ reading, at, by, calibratedAt: hydrometerAt });
    if (answer.because !== undefined) return correctionRefused(answer, { reading, at, calibratedAt: hydrometerAt });
    const { brix, brixUncertainty, baume, densityKgPerM3 } = answer;
    return {
      figures: { brix, brixUncertainty, baume, densityKgPerM3 },
      sentences: [
        `${fixed(brix)} ± ${fixed(brixUncertainty)} °Bx at 20 °C (${fixed(baume)} °Bé).`,
        ...(by === 'hydrometer' && at && at.celsius > 100
          ? ['The sample was hotter than 100 °C, where the formula ends: it is extrapolated, with a wider uncertainty.']
          : []),
        'A place that has its own chart is judged by its chart; a °Bé limit is judged in °Bé, never converted.',
      ],
      sources: [by === 'hydrometer' ? sucroseSource : refractometerSource],
    };
  },
});

export const hydrometerReadingCalculator = defineCalculator({
  name: 'float',
  title: 'What the hydrometer should read in the hot cup',
  fields: {
    density: required(trueDensity, { label: 'Density wanted', example: '66.9 Bx' }),
    at: required(temperature, { label: 'Temperature of the sample', example: '185 F' }),
    hydrometerAt: optional(temperature, { label: 'Hydrometer made for', example: '60 F', hint: '60 °F if blank' }),
  },
  answer: ({ density: wanted, at, hydrometerAt }) => {
    const made = hydrometerAt?.celsius ?? usualCalibrationCelsius;
    const readingBrix = hydrometerReading(wanted.brix, at.celsius, 'Bx', made);
    const reading = { typed: `${fixed(readingBrix)} Bx`, scale: 'Bx', reading: Math.max(0, readingBrix) } as const;
    const back = correctDensity({ reading, at, by: 'hydrometer', calibratedAt: hydrometerAt });
    if (back.because !== undefined) return correctionRefused(back, { reading, at, calibratedAt: hydrometerAt });
    const readingBaume = hydrometerReading(wanted.brix, at.celsius, 'Be', made);
    return {
      figures: { readingBrix, readingBaume },
      sentences: [
        `At ${at.typed} the hydrometer should read ${fixed(readingBrix)} °Bx (${fixed(readingBaume)} °Bé) or more for ${wanted.typed}.`,
        'Where the place has its own chart, the chart is the rule.',
      ],
      sources: [sucroseSource],
    };
  },
});

export const thinCalculator = defineCalculator({
  name: 'thin',
  title: 'Too heavy: how much to thin it',
  fields: {
    syrup: required(positiveVolume, { label: 'Heavy syrup', example: '5 gal' }),
    density: required(trueDensity, { label: 'Its density', example: '69 Bx' }),
    target: required(trueDensity, { label: 'Density wanted', example: '66.9 Bx' }),
    with: optional(trueDensity, { label: 'Thin it with', example: '60 Bx', hint: 'water if blank' }),
  },
  answer: ({ syrup, density: heavy, target, with: thinner }) => {
    const thinBrix = thinner?.brix ?? 0;
    if (!(heavy.brix > target.brix)) return invalid('target', `less than ${heavy.typed}`, `"${target.typed}"`);
    if (!(thinBrix < target.brix)) return invalid('with', `thinner than ${target.typed}`, `"${thinner?.typed ?? ''}"`);
    const add = thinWith({ millilitres: syrup.millilitres, brix: heavy.brix }, target.brix, thinBrix);
    const after = blend([{ millilitres: syrup.millilitres, brix: heavy.brix }, add]);
    return {
      figures: { addGrams: add.grams, addMillilitres: add.millilitres, syrupAfterLitres: after.millilitres / 1000 },
      sentences: [
        `Add ${amount(add.millilitres)} of ${thinner ? `syrup or sap of ${thinner.typed}` : 'clean water'} (${fixed(add.grams, 0)} g): ${amount(after.millilitres)} of ${fixed(target.brix)} °Bx.`,
        'Stir well, bring it back to a boil, filter if sugar sand shows, and measure again: only a density reading proves density.',
      ],
      sources: [sucroseSource, 'mass balance, volumes at 20 °C (worked)'],
    };
  },
});

export const thickenCalculator = defineCalculator({
  name: 'thicken',
  title: 'Too thin: how much to boil off',
  fields: {
    syrup: required(positiveVolume, { label: 'Thin syrup', example: '5 gal' }),
    density: required(trueDensity, { label: 'Its density', example: '64 Bx' }),
    target: required(trueDensity, { label: 'Density wanted', example: '66.9 Bx' }),
  },
  answer: ({ syrup, density: thin, target }) => {
    if (!(thin.brix < target.brix)) return invalid('target', `more than ${thin.typed}`, `"${target.typed}"`);
    const { waterGrams, left } = boilDown({ millilitres: syrup.millilitres, brix: thin.brix }, target.brix);
    const waterMillilitres = (waterGrams / waterDensity(20)) * 1000;
    return {
      figures: { waterGrams, waterMillilitres, syrupAfterLitres: left.millilitres / 1000 },
      sentences: [
        `${amount(waterMillilitres)} of water still boils away, ${amount(left.millilitres)} of ${fixed(target.brix)} °Bx is left.`,
        'Never leave the pan: only a density reading proves density.',
      ],
      sources: [sucroseSource, 'mass balance, volumes at 20 °C (worked)'],
    };
  },
});

export const blendCalculator = defineCalculator({
  name: 'blend',
  title: 'Blend two lots',
  fields: {
    first: required(positiveVolume, { label: 'First lot', example: '3 gal' }),
    firstDensity: required(trueDensity, { label: 'Its density', example: '66.2 Bx' }),
    second: required(positiveVolume, { label: 'Second lot', example: '1 gal' }),
    secondDensity: required(trueDensity, { label: 'Its density', example: '68 Bx' }),
  },
  answer: ({ first, firstDensity, second, secondDensity }): Answer => {
    const both = blend([
      { millilitres: first.millilitres, brix: firstDensity.brix },
      { millilitres: second.millilitres, brix: secondDensity.brix },
    ]);
    return {
      figures: { brix: both.brix, litres: both.millilitres / 1000, gallons: both.millilitres / millilitresIn.gal },
      sentences: [
        `Together ${amount(both.millilitres)} of ${fixed(both.brix, 2)} °Bx.`,
        'Stir well, then measure the blend itself.',
      ],
      sources: [sucroseSource, 'mass balance, volumes at 20 °C (worked)'],
    };
  },
});

type Parts = { readonly [K in 'reading' | 'at' | 'calibratedAt']?: { readonly typed: string } | undefined };

/** A refusal that reports the fault at the field it concerns. */
function correctionRefused(answer: { readonly part: keyof Parts; readonly expected: string }, parts: Parts) {
  const typed = parts[answer.part]?.typed;
  const field = answer.part === 'calibratedAt' ? 'hydrometerAt' : answer.part;
  return invalid(field, answer.expected, typed === undefined ? 'nothing' : `"${typed}"`);
}
