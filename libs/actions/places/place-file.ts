import { readFileSync, readdirSync } from 'node:fs';
import { z } from 'zod';
import { templatePath } from '#libs/package-root.js';
import { allergenIds } from '#libs/syrup/contents/allergens.js';
import { kitchens, wheresSold } from '#libs/syrup/labelling/places.js';
import { mayHold, type Sourced } from '#libs/syrup/rules/provenance.js';
import { cautionPlaces } from './cautions.js';

const mark = z.enum(['read', 'second hand', 'worked', 'memory', 'practice']);
/** The date of the copy, `2026-09-12`, or its year where the copy has no full date. */
const readOn = z.string().regex(/^20\d\d(-\d\d-\d\d)?$/);
const sourced = { source: z.string().min(3), mark, readOn: readOn.nullable() };
/** Only a fact that was read has a date; one from memory, calculation or common practice has none. */
const hasMatchingDate = (each: Sourced): boolean => !!each.readOn === ['read', 'second hand'].includes(each.mark);
const dateMismatchText = 'what was read has a date, and nothing else has one';
const limit = z
  .strictObject({
    ...sourced,
    value: z.number().min(60).max(75),
    baume: z.number().min(30).max(45),
    baumeSource: z.string().min(3),
    gates: z.boolean(),
  })
  .refine(hasMatchingDate, dateMismatchText)
  .refine((each) => mayHold(each.mark) || !each.gates, 'a limit from memory never gates');
/** Ordered from the hottest row to the coldest. */
const neverRises = (readings: readonly number[]): boolean =>
  readings.every((reading, row) => row === 0 || reading >= (readings[row - 1] ?? reading));
const chart = z.strictObject({
  ...sourced,
  standardBrix: z.number(),
  calibratedAtFahrenheit: z.number(),
  decides: z.boolean(),
  rows: z
    .array(z.strictObject({ fahrenheit: z.number(), brix: z.number(), baume: z.number().optional() }))
    .min(2)
    .refine((rows) => neverRises(rows.map(({ brix }) => brix)), 'hotter syrup of one density never reads more')
    .refine(
      (rows) => neverRises(rows.flatMap(({ baume }) => baume ?? [])),
      'hotter syrup of one density never reads more',
    )
    .refine((rows) => neverRises(rows.map(({ fahrenheit }) => -fahrenheit)), 'the hottest row first'),
});
const labelItem = z
  .strictObject({ ...sourced, item: z.string(), carries: z.string(), aboveMillilitres: z.number().optional() })
  .refine(hasMatchingDate, dateMismatchText);
const appliesHere = z
  .strictObject({
    ...sourced,
    topic: z.string().min(3),
    says: z.string().min(10),
    when: z
      .strictObject({
        sold: z.array(z.enum(wheresSold)).min(1).optional(),
        kitchen: z.array(z.enum(kitchens)).min(1).optional(),
      })
      .optional(),
    threshold: z.strictObject({ dollars: z.number().min(1), of: z.string().min(3) }).optional(),
  })
  .refine(hasMatchingDate, dateMismatchText);
const lead = z.strictObject({ ...sourced, ppb: z.number().min(1) }).refine(hasMatchingDate, dateMismatchText);
const bulk = z.strictObject({
  aboveMillilitres: z.number().min(1000),
  minimumBrix: limit,
  maximumBrix: limit,
  lead,
});
const allergens = z.strictObject({
  ...sourced,
  list: z
    .array(z.strictObject({ id: z.enum(allergenIds), en: z.string().min(2), fr: z.string().min(2).optional() }))
    .min(9),
});
export const placeFile = z.strictObject({
  id: z.string(),
  name: z.string(),
  standard: z.string(),
  rulesVersion: z.string(),
  country: z.enum(['US', 'CA']),
  canada: z.boolean(),
  authority: z.array(z.strictObject({ name: z.string(), ask: z.string() })).min(1),
  minimumBrix: limit,
  standInMinimumBrix: limit.nullable(),
  maximumBrix: limit.nullable(),
  bulk: bulk.optional(),
  chart: chart.nullable(),
  gradeNames: z.enum(['US', 'CA', 'QC', 'ON']),
  labels: z.array(labelItem),
  allergens,
  lead: lead.nullable(),
  applies: z.array(appliesHere).min(1),
  notFound: z.array(z.string()),
  fellBack: z.string().nullable(),
});

const cautionFile = z
  .array(
    z.strictObject({
      id: z.string(),
      where: z.array(z.enum(cautionPlaces)).min(1),
      text: z.string(),
      source: z.string(),
      mark,
      readOn: z.string().nullable(),
    }),
  )
  .min(1);

/**
 * Throws where a file of templates/places is invalid. Separate from the reader, since the validation library takes too
 * long to load for a command.
 */
export function checkPlaceFiles(): void {
  for (const file of readdirSync(templatePath('places')).filter((name) => name.endsWith('.json'))) {
    const checked = (file === 'cautions.json' ? cautionFile : placeFile).safeParse(
      JSON.parse(readFileSync(templatePath(`places/${file}`), 'utf8')),
    );
    if (!checked.success) throw new Error(`templates/places/${file}: ${z.prettifyError(checked.error)}`);
  }
}
