import type { RecordKind } from '#libs/records/record-types.js';
import { complaintFields, judgedComplaint } from './complaint.js';
import {
  choice,
  count,
  type Fields,
  signature,
  maybe,
  happened,
  needed,
  orElse,
  ownId,
  temperature,
  text,
  words,
} from '../record/fields.js';
import { cleaningNotes, mixedCleaners } from './cleaning-notes.js';
import { checkVerdict, shouldRead, type TypedCheck } from './instrument-check.js';
import { kind, type Kind } from '../record/kind.js';
import { leadField } from './lead-field.js';
import { elevation, pressure } from '../calculators/question.js';
import { lookUpLot } from '../record/references.js';
import { packsOfSameBoils } from '../lots/spoilage-facts.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** What every record beside the lots has: its id, when it was and who wrote it. */
const beside = {
  id: maybe(ownId, { label: 'Id', hint: 'Left blank, the book gives the next one' }),
  at: maybe(happened, { label: 'When', example: '2026-03-01T09:00', hint: 'Now, where it is left blank' }),
  by: orElse(signature, '', { label: 'By', example: 'WE' }),
};
const note = words({ label: 'Note' });
const instrumentKinds = ['thermometer', 'hydrometer', 'refractometer', 'scale'] as const;

/** The records an inspector reads beside the lots. Each is a table of fields; all are kept alike. */
const tables: readonly (readonly [RecordKind, string, string, Fields])[] = [
  [
    'instrument',
    'instruments',
    'thermometer or other instrument',
    {
      ...beside,
      id: needed(ownId, { label: 'Id written on it', example: 'T1' }),
      what: needed(choice(...instrumentKinds), { label: 'What it is', choices: instrumentKinds }),
      made: words({ label: 'Maker and model', example: 'dial, 8 in stem' }),
      note,
    },
  ],
  [
    'check',
    'checks',
    'check of an instrument',
    {
      ...beside,
      instrument: needed(ownId, { label: 'Instrument', example: 'T1' }),
      how: needed(choice('ice', 'boiling-water', 'reference'), {
        label: 'How',
        choices: ['ice', 'boiling-water', 'reference'],
      }),
      reads: maybe(temperature, { label: 'Reads', example: '32.5 F' }),
      should: maybe(temperature, {
        label: 'Should read',
        example: '32 F',
        hint: 'Left blank: 32 °F in ice; in boiling water by the pressure of the day, else by elevation',
      }),
      pressure: maybe(pressure, {
        label: 'Station pressure today',
        example: '29.4 inHg',
        hint: 'For boiling water; as it is here, not reduced to sea level',
      }),
      elevation: maybe(elevation, {
        label: 'Elevation',
        example: '1400 ft',
        hint: 'If the pressure is not known; left blank, the sugarhouse’s own',
      }),
      fit: maybe(choice('yes', 'no'), {
        label: 'Reads right',
        choices: ['yes', 'no'],
        hint: 'For a hydrometer or a refractometer. If left blank, a thermometer is judged by its two temperatures: within 2 °F',
      }),
      done: words({ label: 'What was done', example: 'none needed' }),
      note,
    },
  ],
  [
    'equipment',
    'equipment',
    'piece of equipment',
    {
      ...beside,
      id: needed(ownId, { label: 'Id', example: 'PAN1' }),
      what: needed(text, { label: 'What it is', example: 'finish pan' }),
      material: words({ label: 'Material', example: 'stainless, welded' }),
      year: words({ label: 'Year made', example: '2011' }),
      solder: words({
        label: 'Solder, terneplate or galvanised parts',
        example: 'none',
        hint: 'Solder before 1995, galvanised before 1994 and terneplate may hold lead',
      }),
      note,
    },
  ],
  [
    'cleaning',
    'cleanings',
    'cleaning',
    {
      ...beside,
      what: needed(text, { label: 'What was cleaned', example: 'finish pan and draw-off' }),
      with: needed(text, {
        label: 'With what',
        example: 'unscented bleach',
        hint: '1 part unscented bleach to 20 of water; no household detergent, no iodine',
      }),
      strength: words({ label: 'How strong', example: '1 to 20' }),
      wasRinsed: maybe(choice('yes', 'no'), {
        label: 'Rinsed',
        choices: ['yes', 'no'],
        hint: 'No asks about the boils that go through it until it is rinsed. Rinse between two cleaners too',
      }),
      rinsed: words({ label: 'Rinsed with', example: 'clean water, three times' }),
      note,
    },
  ],
  [
    'filter',
    'filters',
    'filter washing',
    {
      ...beside,
      what: needed(text, { label: 'Which filter', example: 'wool cone 2' }),
      washed: words({
        label: 'How it was washed',
        example: 'hot water only',
        hint: 'Hot water only, no soap; do not wring',
      }),
      note,
    },
  ],
  [
    'supply',
    'supplies',
    'supply',
    {
      ...beside,
      what: needed(text, { label: 'What', example: 'half-pint jars' }),
      supplier: needed(text, { label: 'From whom' }),
      theirLot: words({ label: 'Their lot' }),
      howMany: words({ label: 'How many', example: '144' }),
      allergens: words({ label: 'Allergens', example: 'none' }),
      lot: maybe(text, { label: 'Used for pack', example: '26077A-1' }),
      note,
    },
  ],
  [
    'water-test',
    'water-tests',
    'water test',
    {
      ...beside,
      source: needed(text, { label: 'Which water', example: 'house well' }),
      laboratory: words({ label: 'Laboratory' }),
      bacteria: maybe(choice('none', 'coliform', 'e-coli', 'failed'), {
        label: 'Coliform or E. coli',
        choices: ['none', 'coliform', 'e-coli', 'failed'],
        hint: 'What is found asks about the boils that follow, until a good test of the same water',
      }),
      result: needed(text, { label: 'Result', example: 'no coliform found' }),
      note,
    },
  ],
  [
    'lead-test',
    'lead-tests',
    'lead test',
    {
      ...beside,
      lot: maybe(text, {
        label: 'Lot tested',
        example: '26077A-1',
        hint: 'Blank where a piece of equipment was tested',
      }),
      equipment: words({ label: 'Equipment tested', example: 'PAN1' }),
      laboratory: words({ label: 'Laboratory' }),
      lead: leadField,
      note,
    },
  ],
  ['complaint', 'complaints', 'complaint', complaintFields],
  [
    'training',
    'trainings',
    'training',
    {
      ...beside,
      who: needed(text, { label: 'Who', example: 'JP' }),
      what: needed(text, { label: 'What', example: 'hand washing, hot filling' }),
      note,
    },
  ],
  [
    'licence',
    'licences',
    'licence',
    {
      ...beside,
      what: needed(text, { label: 'What', example: 'producer licence' }),
      number: needed(text, { label: 'Number' }),
      until: words({ label: 'Valid until', example: '2026-12-31' }),
      note,
    },
  ],
  [
    'practice-recall',
    'practice-recalls',
    'practice recall',
    {
      ...beside,
      jar: words({ label: 'Jar drawn' }),
      lot: maybe(text, { label: 'Lot' }),
      seconds: maybe(count, { label: 'Seconds it took' }),
      accounted: words({ label: 'Accounted for' }),
      counted: maybe(count, { label: 'Jars counted on the shelf', hint: 'By a person, for this recall' }),
      result: words({ label: 'Result' }),
      note,
    },
  ],
  [
    'season',
    'seasons',
    'season close',
    {
      ...beside,
      year: needed(count, { label: 'Year', example: '2026' }),
      missing: words({ label: 'What was missing' }),
      signed: needed(text, { label: 'Signed', example: 'Wren Ellery' }),
      note,
    },
  ],
  [
    'labels',
    'label-runs',
    'label run',
    {
      ...beside,
      lot: needed(text, { label: 'Lot' }),
      stock: words({ label: 'Stock' }),
      from: maybe(count, { label: 'From jar' }),
      to: maybe(count, { label: 'To jar' }),
      what: orElse(choice('printed', 'spoiled', 'reprinted'), 'printed', {
        label: 'What',
        choices: ['printed', 'spoiled', 'reprinted'],
      }),
      skip: maybe(count, { label: 'Places skipped on the sheet' }),
      ended: maybe(count, { label: 'Places used of the last sheet' }),
      right: words({ label: 'Moved right, mm' }),
      down: words({ label: 'Moved down, mm' }),
      gtin: words({ label: 'Article number (GTIN)', letters: 20 }),
      note,
    },
  ],
];

export const supportingRecordKinds: readonly Kind[] = tables.map(([name, plural, noun, fields]) =>
  kind({
    kind: name,
    plural,
    noun,
    fields,
    named: ['id'],
    prepare: async ({ sql, writeContext: context, houseContext, first }, { body }, before) => {
      const input = body as Readonly<Record<string, unknown>> & { id?: string; at?: string; by: string; lot?: string };
      const lot =
        input.lot === undefined ? undefined : await lookUpLot(sugarhouseReader(sql, context.sugarhouse), input.lot);
      if (input.lot !== undefined && !lot)
        return {
          problem: {
            kind: 'invalid',
            faults: [{ field: 'lot', expected: 'a lot of this book', got: `"${input.lot}"` }],
          },
        };
      const at = input.at ?? first.at;
      const check = name === 'check' ? (body as unknown as TypedCheck) : undefined;
      const should = check ? shouldRead(check, houseContext.house) : {};
      const mixed =
        name === 'cleaning' ? await mixedCleaners({ sql, sugarhouse: context.sugarhouse }, input, at) : undefined;
      return {
        id: name === 'season' ? String(input['year']) : (input.id ?? before?.id ?? ''),
        lot: lot?.code,
        happenedAt: at,
        body: {
          ...input,
          ...(lot ? { lot: lot.code } : {}),
          at,
          by: input.by || first.by,
          ...(name === 'complaint' ? { judged: judgedComplaint(input, houseContext.place) } : {}),
          ...(mixed === undefined ? {} : { mixed }),
          ...should,
        },
        about: lot ? [lot.code] : [],
        judge:
          (name === 'complaint' || name === 'lead-test') && lot
            ? [lot.code, ...(await packsOfSameBoils({ sql, sugarhouse: context.sugarhouse }, lot.code))]
            : [],
        notes: check ? [checkVerdict({ ...check, ...should })] : cleaningNotes(mixed),
      };
    },
  }),
);
