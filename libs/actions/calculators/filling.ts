import { canadianLot, canadianLotSource, leastSample } from '#libs/syrup/science/canadian-lot.js';
import { heatSources, hotFill } from '#libs/syrup/science/hot-fill.js';
import { airSource, netContentsSource, shrink, syrupWeight, weighedJars } from '#libs/syrup/science/net-contents.js';
import { fahrenheitOf, parseMass, type Mass, type Parsed, type Volume } from '#libs/syrup/quantities/quantities.js';
import { sucroseSource } from '#libs/syrup/science/sucrose.js';
import { choice, count, optional, required, withDefault, splitList, text } from '../record/fields.js';
import { invalid } from '../record/problem.js';
import {
  amount,
  bothDegrees,
  fixed,
  liquidTemperature,
  mass,
  defineCalculator,
  positiveVolume,
  trueDensity,
} from './calculator.js';

const density = required(trueDensity, { label: 'Density of the syrup', example: '66.9 Bx' });

export const fillCalculator = defineCalculator({
  name: 'fill',
  title: 'Temperature in the jar',
  fields: {
    syrup: required(liquidTemperature, { label: 'Syrup at the filler', example: '190 F' }),
    fill: required(positiveVolume, { label: 'Syrup in a jar', example: '8 fl oz', hint: 'as poured, hot' }),
    glass: required(mass, { label: 'Empty jar weighs', example: '190 g' }),
    glassAt: required(liquidTemperature, { label: 'Jar is at', example: '68 F' }),
    density,
    material: withDefault(choice('glass', 'metal', 'plastic'), 'glass', {
      label: 'Made of',
      choices: ['glass', 'metal', 'plastic'],
    }),
  },
  answer: ({ syrup, fill, glass, glassAt, density: { brix }, material }) => {
    const [leastCelsius, least] = syrup.unit === 'C' ? [82, '82 °C'] : [(180 - 32) / 1.8, '180 °F'];
    const answer = hotFill({
      brix,
      syrupCelsius: syrup.celsius,
      syrupMillilitres: fill.millilitres,
      jarGrams: glass.grams,
      jarCelsius: glassAt.celsius,
      material,
      leastCelsius,
    });
    // Syrup can't be poured hotter than it boils, which is also the limit of the density formula.
    const syrupNeeded = answer.syrupNeededCelsius <= 104 ? answer.syrupNeededCelsius : null;
    return {
      figures: {
        mixedF: fahrenheitOf(answer.mixedCelsius),
        mixedC: answer.mixedCelsius,
        passes: answer.passes,
        syrupNeededF: syrupNeeded === null ? null : fahrenheitOf(syrupNeeded),
      },
      sentences: [
        `${bothDegrees(answer.mixedCelsius)} in the jar, perhaps ${fixed(fahrenheitOf(answer.mixedAtMostCelsius))} °F at most: ${answer.passes ? 'at or above' : 'below'} ${least}.`,
        syrupNeeded === null
          ? `No syrup is hot enough for this jar: warm the jar.`
          : `For ${least} the syrup has to be about ${bothDegrees(syrupNeeded)}${syrupNeeded > (200 - 32) / 1.8 ? '; above about 200 °F sugar sand forms again, so warm the jar instead' : ''}.`,
        ...coldestJar(answer.coldestJarCelsius, syrup.typed, least),
        'Air and lid take a little more. What counts is the reading in the jar when it is capped.',
      ],
      sources: [sucroseSource, ...heatSources],
    };
  },
});

function coldestJar(celsius: number | undefined, syrup: string, least: string): string[] {
  if (celsius === undefined) return [`Syrup of ${syrup} cannot bring any jar to ${least}.`];
  return celsius <= 0 ? [] : [`With syrup of ${syrup} a jar at about ${bothDegrees(celsius)} or warmer is enough.`];
}

export const shrinkCalculator = defineCalculator({
  name: 'shrink',
  title: 'Shrinkage of hot syrup',
  fields: {
    fillAt: required(liquidTemperature, { label: 'Filled at', example: '185 F' }),
    density,
    to: optional(liquidTemperature, { label: 'Down to', example: '68 F', hint: '68 °F if blank' }),
  },
  answer: ({ fillAt, density: { brix }, to }) => {
    const { percent, hotVolumePerCold } = shrink(brix, fillAt.celsius, to?.celsius ?? 20);
    return {
      figures: { percent, hotVolumePerCold },
      sentences: [
        `${fixed(percent, 2)} % of the hot volume is lost from ${fillAt.typed} to ${to?.typed ?? '68 °F'}: ${fixed(hotVolumePerCold, 4)} hot for each cold.`,
        'Hot glass is about 0.17 % bigger (from memory), which this leaves out.',
      ],
      sources: [sucroseSource, netContentsSource],
    };
  },
});

export const weightCalculator = defineCalculator({
  name: 'weight',
  title: 'Weight of the net contents',
  fields: {
    volume: required(positiveVolume, { label: 'Net contents', example: '8 fl oz', hint: 'cold, at 68 °F' }),
    density,
  },
  answer: ({ volume: label, density: { brix } }) => {
    const { grams, gramsInAir, poundsInAir } = syrupWeight(label.millilitres, brix);
    return {
      figures: { grams, gramsInAir, poundsInAir },
      sentences: [
        `${label.typed} of ${fixed(brix)} °Bx weighs ${fixed(gramsInAir)} g (${fixed(poundsInAir, 3)} lb) on a scale in air, without the jar; its mass is ${fixed(grams)} g.`,
        'Denser syrup must weigh more: use the density of this lot.',
      ],
      sources: [sucroseSource, airSource, netContentsSource],
    };
  },
});

export const fillLevelCalculator = defineCalculator({
  name: 'fill-level',
  title: 'How full to fill a hot jar',
  fields: {
    volume: required(positiveVolume, { label: 'Net contents', example: '8 fl oz', hint: 'what the label says, cold' }),
    fillAt: required(liquidTemperature, { label: 'Filled at', example: '185 F' }),
    density,
  },
  answer: ({ volume: label, fillAt, density: { brix } }) => {
    const hotMillilitres = label.millilitres * shrink(brix, fillAt.celsius, 20).hotVolumePerCold;
    const { gramsInAir } = syrupWeight(label.millilitres, brix);
    return {
      figures: { hotMillilitres, gramsInAir },
      sentences: [
        `Fill to ${amount(hotMillilitres)} at ${fillAt.typed}, or until a scale shows ${fixed(gramsInAir)} g of syrup: cold it is ${label.typed}.`,
        'Glass that is hot too holds about 0.17 % more (from memory), which this leaves out.',
      ],
      sources: [sucroseSource, netContentsSource, airSource],
    };
  },
});

export const weighedJarsCalculator = defineCalculator({
  name: 'weighed-jars',
  title: 'Check net contents by weighing',
  fields: {
    weights: required(masses, {
      label: 'Jars weighed',
      example: '503 g; 502 g; 505 g',
      list: true,
      hint: 'with or without the jar',
    }),
    tare: optional(mass, {
      label: 'Empty jar with its lid',
      example: '190 g',
      hint: 'blank when it was taken off already',
    }),
    volume: required(positiveVolume, { label: 'Net contents', example: '8 fl oz' }),
    density,
    allowance: optional(mass, {
      label: 'Allowed shortage',
      example: '5 g',
      hint: 'from your own source; none is included',
    }),
    citation: withDefault(text, '', { label: 'Source of the allowance', example: 'the edition and table you read' }),
    country: withDefault(choice('US', 'CA'), 'US', { label: 'Country', choices: ['US', 'CA'] }),
    lotSize: optional(count, {
      label: 'Jars in the lot',
      example: '48',
      hint: 'Canada: how many to weigh depends on it',
    }),
  },
  answer: ({ weights, tare, volume: label, density: { brix }, allowance, citation, country, lotSize }) => {
    const net = weights.map(({ grams }) => grams - (tare?.grams ?? 0));
    if (net.some((grams) => grams <= 0))
      return invalid('tare', 'a tare less than the weight of every jar', `"${tare?.typed ?? ''}"`);
    if (allowance && citation === '')
      return invalid('citation', 'the source of the allowance, since none is included', 'nothing');
    const input = weighedJars(net, label.millilitres, brix, allowance?.grams);
    if (lotSize !== undefined && lotSize < net.length)
      return invalid('lotSize', `at least the ${net.length} jars that were weighed`, String(lotSize));
    const canada = country === 'CA' ? inCanada(net, label, input.labelGramsInAir, lotSize) : undefined;
    return {
      figures: { ...input, ...canada?.figures },
      sentences: [
        `${input.jars} jars average ${fixed(input.averageGrams)} g${input.spreadGrams === null ? '' : `, spread ${fixed(input.spreadGrams)} g`}; ${label.typed} of ${fixed(brix)} °Bx is ${fixed(input.labelGramsInAir)} g: the average is ${input.averageReachesLabel ? 'there' : 'SHORT'}.`,
        `${input.jarsUnderLabel} under the label, the lowest at ${fixed(input.lowestGrams)} g.`,
        ...(allowance
          ? [`${input.jarsUnderAllowance ?? 0} short by more than ${allowance.typed} (${citation}).`]
          : canada
            ? []
            : [
                'No allowed shortage is included: enter one with its source, or ask the weights-and-measures office.',
                'An inspector corrects the average for the spread of the sample (NIST Handbook 133, 2026, 2.3.7.2, read); asked here without it, which is stricter. Of two declarations the larger is tested (2.3.3).',
              ]),
        ...(canada?.sentences ?? []),
      ],
      sources: [
        sucroseSource,
        airSource,
        ...(canada ? [canadianLotSource] : []),
        ...(citation === '' ? [] : [`allowance typed by the maker: ${citation}`]),
      ],
    };
  },
});

/**
 * Compared with Schedules 4 and 5: grams of this lot's syrup as millilitres at 20 °C. The authority decides what it
 * means.
 */
function inCanada(net: readonly number[], label: Volume, labelGrams: number, lotSize: number | undefined) {
  const millilitres = net.map((grams) => (grams / labelGrams) * label.millilitres);
  const lot = canadianLot(millilitres, label.millilitres);
  const sampleSize = lotSize === undefined ? null : leastSample(lotSize);
  const average = lot.correctedAverageMl;
  return {
    figures: {
      toleranceMl: lot.toleranceMl,
      correctedAverageMl: average,
      shortByMore: lot.shortByMore,
      shortByTwice: lot.shortByTwice,
      failsAt: lot.failsAt,
      leastSample: sampleSize,
      // A sample too small for its lot allows no conclusion.
      meetsSchedules: sampleSize === null || net.length < sampleSize ? null : lot.failures.length === 0,
    },
    sentences: [
      sampleSize === null
        ? 'How many to weigh depends on the lot: enter its number of jars.'
        : net.length < sampleSize
          ? `Too few: of ${lotSize} jars at least ${sampleSize} are weighed; at most a tenth of the lot, and at least one, is opened.`
          : `${net.length} weighed of ${lotSize}; at least ${sampleSize} are asked.`,
      `Corrected for the sample the average is ${average === null ? 'not known of one jar' : `${fixed(average)} mL`}, the label ${fixed(label.millilitres)} mL${lot.failures.includes('average') ? ': SHORT' : ''}.`,
      `A jar may be ${fixed(lot.toleranceMl, 2)} mL short. ${lot.shortByMore} short by more${lot.failsAt === null ? ', of a sample larger than the schedule' : `; ${lot.failsAt} fail the lot`}${lot.failures.includes('tolerance') ? ': SHORT' : ''}. ${lot.shortByTwice} short by more than twice that; 2 fail it${lot.failures.includes('twice') ? ': SHORT' : ''}.`,
    ],
  };
}

/** Parses weights in one text, each with its unit: `503 g; 502 g`. */
export function masses(typed: string): Parsed<readonly Mass[]> {
  const read = splitList(typed).map((part) => ({ part, parsed: parseMass(part) }));
  const wrong = read.find(({ parsed }) => parsed.mismatch);
  if (wrong?.parsed.mismatch) return { mismatch: wrong.parsed.mismatch };
  if (read.length === 0) return { mismatch: { expected: 'weights like 503 g; 502 g', got: 'nothing' } };
  return { value: read.flatMap(({ parsed }) => (parsed.value ? [parsed.value] : [])) };
}
