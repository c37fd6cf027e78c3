import { findLot } from '#libs/store/queries/lots.js';
import {
  type BodyOf,
  choice,
  density,
  signature,
  optional,
  pastMoment,
  required,
  withDefault,
  ownId,
  temperature,
  text,
  freeText,
  instrumentsField,
} from '../record/fields.js';
import { spoonSign } from './manual-steps.js';
import { panTemperatureSentences } from '#libs/syrup/rules/judge-boil-record.js';
import { asNote } from '../facts/boil-times.js';
import { kind } from '../record/kind.js';
import { type Fault, invalid } from '../record/problem.js';

/** A sample in the cup with the hydrometer in it. */
export const hotCup = 'hot-cup';

export const lineKinds = [
  'reading',
  'sap-in',
  'pan-to-pan',
  'draw-off',
  'filtered',
  'resting',
  'defoamer',
  'fire',
  'skimmed',
  hotCup,
  'note',
] as const;

/** A line of a boil's log, written during the boil: a reading, syrup moved between pans, wood added. */
export const lineFields = {
  id: optional(ownId, { label: 'Id' }),
  lot: required(text, { label: 'Boil', example: '26077A' }),
  at: required(pastMoment, { label: 'When', example: '2026-03-18T14:05' }),
  what: withDefault(choice(...lineKinds), 'reading', { label: 'What', example: 'reading', choices: lineKinds }),
  pan: freeText({ label: 'Which pan', example: 'finish pan' }),
  temperature: optional(temperature, { label: 'Temperature', example: '214.5 F' }),
  density: optional(density, { label: 'Density', example: '45 Bx' }),
  sampleTemp: optional(temperature, {
    label: 'Temperature of the sample',
    example: '209 F',
    hint: 'In the cup, read at the same moment',
  }),
  spoon: spoonSign,
  instruments: instrumentsField,
  by: withDefault(signature, '', { label: 'By', example: 'WE' }),
  note: freeText({ label: 'Note', example: 'moved 6 gal on from the back pan' }),
};

export const lines = kind({
  kind: 'line',
  plural: 'lines',
  noun: 'line',
  fields: lineFields,
  idFields: ['id'],
  prepare: async ({ reader, first }, { body }, before) => {
    const boil = await findLot(reader, body.lot.toUpperCase());
    if (boil?.kind !== 'boil') return invalid('lot', 'a boil of this book', `"${body.lot}"`);
    const faults = body.what === hotCup ? cupFaults(body) : [];
    if (faults.length > 0) return { problem: { kind: 'invalid' as const, faults } };
    if (
      !body.temperature &&
      !body.density &&
      !body.spoon &&
      body.note === '' &&
      body.pan === '' &&
      body.what === 'reading'
    )
      return invalid('temperature', 'a reading or a note', 'nothing');
    return {
      id: body.id ?? before?.id ?? '',
      lot: boil.code,
      happenedAt: body.at,
      body: { ...body, by: body.by || first.by },
      about: [boil.code],
      judge: [],
      notes: panTemperatureSentences(body.temperature).map(asNote),
    };
  },
});

/** A density is judged by the temperature at which it was read, and a sample's temperature is not that of the pan. */
function cupFaults({ density, sampleTemp, temperature }: BodyOf<typeof lineFields>): Fault[] {
  return [
    ...(density ? [] : [{ field: 'density', expected: 'what the hydrometer reads, like 59.5 Bx', got: 'nothing' }]),
    ...(sampleTemp
      ? []
      : [{ field: 'sampleTemp', expected: 'the temperature of the sample, like 209 F', got: 'nothing' }]),
    ...(temperature
      ? [
          {
            field: 'temperature',
            expected: 'the temperature of the sample in its own field',
            got: `"${temperature.typed}"`,
          },
        ]
      : []),
  ];
}
