import { colourClassOf, colourSource, gradeText } from '#libs/syrup/science/colour.js';
import { jarPlan, sparesSource, type JarSize } from '#libs/syrup/science/jar-plan.js';
import { type Parsed, type Volume } from '#libs/syrup/quantities/quantities.js';
import { millilitresIn } from '#libs/syrup/quantities/units.js';
import { shrink } from '#libs/syrup/science/net-contents.js';
import { sucroseSource } from '#libs/syrup/science/sucrose.js';
import {
  fuelSource,
  revisedJonesRule,
  ruleOf86,
  syrupYield,
  usualGallonsPerCord,
  yieldSources,
} from '#libs/syrup/science/syrup-yield.js';
import { cylinderPanelMm2, netQuantityHeightMm, panelSource } from '#libs/syrup/labelling/type-height.js';
import { choice, optional, required, withDefault, splitList, percent } from '../record/fields.js';
import type { ParseOptions } from '../record/parse-options.js';
import { invalid } from '../record/problem.js';
import {
  amount,
  area,
  fixed,
  length,
  liquidTemperature,
  defineCalculator,
  positiveVolume,
  sugar,
  trueDensity,
} from './calculator.js';

const sapFields = {
  sap: required(positiveVolume, { label: 'Sap', example: '400 gal' }),
  sugar: required(sugar, { label: 'Sugar of the sap', example: '2 Bx' }),
};

export const yieldCalculator = defineCalculator({
  name: 'yield',
  title: 'How much syrup the sap makes',
  fields: { ...sapFields, density: required(trueDensity, { label: 'Density of the syrup', example: '66 Bx' }) },
  answer: ({ sap, sugar: sapSugar, density }) => {
    if (!(sapSugar.brix < density.brix)) return invalid('sugar', `less than ${density.typed}`, `"${sapSugar.typed}"`);
    const { syrupMillilitres, sapPerSyrup, waterKilograms } = syrupYield(sap.millilitres, sapSugar.brix, density.brix);
    const gallons = syrupMillilitres / millilitresIn.gal;
    const jones = revisedJonesRule(sapSugar.brix);
    return {
      figures: { gallons, litres: syrupMillilitres / 1000, sapPerSyrup },
      sentences: [
        `${amount(syrupMillilitres)} of syrup, ${fixed(sapPerSyrup, 2)} of sap for one of syrup; ${amount(waterKilograms * 1001.8)} of water to boil away.`,
        `The Rule of 86 says ${fixed(ruleOf86(sapSugar.brix), 2)} to one${jones > 1 ? `, the revised Jones rule ${fixed(jones, 2)} (for 66.0 °Bx)` : ''}.`,
        `About ${fixed(gallons / usualGallonsPerCord, 2)} cord of wood in a standard evaporator, for sap of 2 %. Niter, foam and the filter take some of it.`,
      ],
      sources: [sucroseSource, ...yieldSources, fuelSource],
    };
  },
});

export const seasonRatioCalculator = defineCalculator({
  name: 'season-ratio',
  title: 'Season yield against expected',
  fields: {
    ...sapFields,
    syrup: required(positiveVolume, { label: 'Syrup made', example: '9 gal' }),
    density: required(trueDensity, { label: 'Its density', example: '66.9 Bx' }),
    wood: optional(cords, { label: 'Wood burnt', example: '0.5 cord' }),
  },
  answer: ({ sap, sugar: sapSugar, syrup, density, wood }) => {
    if (!(sapSugar.brix < density.brix)) return invalid('sugar', `less than ${density.typed}`, `"${sapSugar.typed}"`);
    const expected = syrupYield(sap.millilitres, sapSugar.brix, density.brix);
    const sapPerSyrup = sap.millilitres / syrup.millilitres;
    const percentOfExpected = (syrup.millilitres / expected.syrupMillilitres) * 100;
    const gallonsPerCord = wood === undefined ? null : syrup.millilitres / millilitresIn.gal / wood;
    return {
      figures: { sapPerSyrup, expectedSapPerSyrup: expected.sapPerSyrup, percentOfExpected, gallonsPerCord },
      sentences: [
        `${fixed(sapPerSyrup)} of sap for one of syrup, where ${fixed(expected.sapPerSyrup)} was to be expected: ${fixed(percentOfExpected, 0)} %.`,
        ...(percentOfExpected > 102
          ? ['More syrup than the sugar of that sap can make: a reading or a volume is wrong.']
          : []),
        ...(gallonsPerCord === null
          ? []
          : [`${fixed(gallonsPerCord)} gal from a cord; about ${usualGallonsPerCord} is usual with 2 % sap.`]),
      ],
      sources: [sucroseSource, ...yieldSources, fuelSource],
    };
  },
});

export const jarPlanCalculator = defineCalculator({
  name: 'jar-plan',
  title: 'How many jars a boil fills',
  fields: {
    syrup: required(positiveVolume, { label: 'Syrup', example: '5 gal' }),
    syrupAt: optional(liquidTemperature, { label: 'Measured at', example: '185 F', hint: 'cold if blank' }),
    density: optional(trueDensity, { label: 'Its density', example: '66.9 Bx', hint: 'needed for hot syrup' }),
    sizes: required(jarSizes, {
      label: 'Jars',
      example: '16 fl oz x 12; 8 fl oz',
      list: true,
      hint: 'filled in this order; without a count as many as it fills',
    }),
  },
  answer: ({ syrup, syrupAt, density, sizes }) => {
    if (syrupAt && !density) return invalid('density', 'the density of syrup that was measured hot', 'nothing');
    const hot = syrupAt && density ? shrink(density.brix, syrupAt.celsius, 20).hotVolumePerCold : 1;
    const cold = syrup.millilitres / hot;
    const plan = jarPlan(cold, sizes);
    const rows = plan.sizes.map((size, i) => ({
      size: sizes[i]?.size.typed ?? '',
      jars: size.jars,
      toBoil: size.toBoil,
    }));
    return {
      figures: { sizes: rows, leftOverMillilitres: plan.leftOverMillilitres },
      sentences: [
        ...(hot === 1 ? [] : [`${syrup.typed} at ${syrupAt?.typed ?? ''} is ${amount(cold)} cold.`]),
        ...rows.map(({ size, jars, toBoil }) => `${jars} of ${size}: boil ${toBoil} jars and lids.`),
        `${amount(plan.leftOverMillilitres)} left over.`,
      ],
      sources: [...(hot === 1 ? [] : [sucroseSource]), sparesSource],
    };
  },
});

export const colourCalculator = defineCalculator({
  name: 'colour',
  title: 'Colour class',
  fields: { transmittance: required(percent, { label: 'Light transmittance at 560 nm', example: '61 %' }) },
  answer: ({ transmittance }) => {
    const colour = colourClassOf(transmittance.percent);
    return {
      figures: { class: colour, gradeUs: gradeText(colour, 'US') },
      sentences: [
        `${transmittance.typed}: ${colour}. In the United States ${gradeText(colour, 'US')}.`,
        'In Canada the class is the same; a Canada grade name before it is only for the holder of a federal licence (SFCR s. 308(1)).',
        'A grade also asks for clean taste and no sediment; an off flavour makes it processing grade.',
      ],
      sources: [colourSource],
    };
  },
});

export const typeHeightCalculator = defineCalculator({
  name: 'type-height',
  title: 'Type height of the net quantity',
  fields: {
    panelHeight: optional(length, { label: 'Height of the jar', example: '3.5 in' }),
    diameter: optional(length, { label: 'Its diameter', example: '64 mm' }),
    panelArea: optional(area, { label: 'Or the panel’s area', example: '12 in²' }),
    country: withDefault(choice('US', 'CA'), 'US', { label: 'Country', choices: ['US', 'CA'] }),
  },
  answer: ({ panelHeight, diameter, panelArea, country }) => {
    if (panelArea && (panelHeight ?? diameter))
      return invalid('panelArea', 'the area, or height and diameter, not both', `"${panelArea.typed}"`);
    if (!panelArea && !panelHeight)
      return invalid('panelHeight', 'height and diameter of the jar, or the area of the panel', 'nothing');
    if (!panelArea && !diameter) return invalid('diameter', 'the diameter of the jar, like 64 mm', 'nothing');
    const panelMm2 =
      panelArea?.squareMillimetres ?? cylinderPanelMm2(panelHeight?.millimetres ?? 0, diameter?.millimetres ?? 0);
    const { millimetres, inches, source } = netQuantityHeightMm(panelMm2, country);
    return {
      figures: { panelSquareInches: panelMm2 / 645.16, inches, millimetres },
      sentences: [
        `A panel of ${fixed(panelMm2 / 645.16)} in² (${fixed(panelMm2 / 100)} cm²): letters of ${fixed(Math.ceil(millimetres * 100 - 1e-9) / 100, 2)} mm (${fixed(inches, 4)} in) or taller.`,
        country === 'US'
          ? 'Measured on the capital letter, or on the small o in mixed case; in the bottom 30 % of the panel.'
          : 'The numerals, bold; the grade name and the colour class as high; other required words at least 1.6 mm.',
        'The rule may have changed: ask the authority before a large print run.',
      ],
      sources: [...(panelArea ? [] : [panelSource]), source],
    };
  },
});

/** Parses sizes in one text, each with a count where there is one: `16 fl oz x 12; 8 fl oz`. */
export function jarSizes(
  typed: string,
  options: ParseOptions,
): Parsed<readonly (JarSize & { readonly size: Volume })[]> {
  const sizes: (JarSize & { size: Volume })[] = [];
  for (const part of splitList(typed)) {
    const { size, count } = sizeAndCount(part);
    const parsed = positiveVolume(size, options);
    if (parsed.mismatch)
      return {
        mismatch: { expected: `${parsed.mismatch.expected}, or with a count as 16 fl oz x 12`, got: `"${part}"` },
      };
    sizes.push({
      size: parsed.value,
      millilitres: parsed.value.millilitres,
      wanted: count,
    });
  }
  return sizes.length > 0
    ? { value: sizes }
    : { mismatch: { expected: 'sizes like 16 fl oz x 12; 8 fl oz', got: 'nothing' } };
}

/** Splits `16 fl oz x 12`: the size is before the last x where a count follows it. */
function sizeAndCount(part: string): { readonly size: string; readonly count: number | undefined } {
  const separator = Math.max(part.lastIndexOf('x'), part.lastIndexOf('X'), part.lastIndexOf('×'));
  const count = separator < 0 ? '' : part.slice(separator + 1).trim();
  return /^\d{1,6}$/u.test(count)
    ? { size: part.slice(0, separator), count: Number(count) }
    : { size: part, count: undefined };
}

function cords(typed: string): Parsed<number> {
  const match = /^(\d+(?:[.,]\d{1,2})?)\s*(full\s*)?cords?$/i.exec(typed.trim());
  const number = Number((match?.[1] ?? '').replace(',', '.'));
  return match && number > 0
    ? { value: number }
    : { mismatch: { expected: 'wood in full cords, like 0.5 cord', got: `"${typed}"` } };
}
