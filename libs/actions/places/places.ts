import { readFileSync, readdirSync } from 'node:fs';
import { z } from 'zod';
import { templatePath } from '#libs/package-root.js';
import { allergenIds } from '#libs/syrup/contents/allergens.js';
import { mayHold, type Sourced } from '#libs/syrup/rules/marks.js';
import { kitchens, type PlaceRules, wheresSold } from '#libs/syrup/labelling/places.js';
import { stateNames } from '#libs/syrup/rules/states.js';
import { provinceNames, standardNames } from './place-names.js';
import { invalid, type Refusal } from '../record/problem.js';

/**
 * The rules of a place by its id, name or code: `vermont`, `Vermont`, `VT`, `us`. Nothing is the US grade
 * standard. A state or province without a file of its own gets its country's standard, and `fellBack` says so.
 */
export function placeRules(place?: string): PlaceRules | Refusal {
  const text = plain(place ?? '');
  if (text === '') return rulesOf('us-standard');
  const known = placeList().find(({ id, name }) => [plain(id), plain(name)].includes(text));
  const id = known?.id ?? (Object.hasOwn(standardNames, text) ? standardNames[text] : undefined);
  if (id) return rulesOf(id);
  if (text === 'ca') return invalid('place', 'California or Canada, for CA is the code of both', '"CA"');
  return ofState(text) ?? ofProvince(text) ?? invalid('place', placeExpected, `"${place?.trim() ?? ''}"`);
}

/** The rules of its country, which hold beside those of a state or province. */
export const standardOf = ({ canada }: PlaceRules): PlaceRules => rulesOf(canada ? 'canada' : 'us-standard');

/** Every place that has a file of its own, by name. */
export function placeList(): readonly { readonly id: string; readonly name: string }[] {
  return [...everyPlace().values()].map(({ id, name }) => ({ id, name }));
}

export const placeExpected =
  'a place such as Vermont, NY, Ontario or us-standard; any US state or Canadian province is taken';

export function isRefusal(answer: PlaceRules | Refusal): answer is Refusal {
  return 'problem' in answer;
}

/** templates/places/ID.json, as it must be. A file that isn't is a fault of the program, told at the first look. */
export const mark = z.enum(['read', 'second hand', 'worked', 'memory', 'practice']);
/** The date of the copy, `2026-09-12`, or its year where it bears none. */
const readOn = z.string().regex(/^20\d\d(-\d\d-\d\d)?$/);
const sourced = { source: z.string().min(3), mark, readOn: readOn.nullable() };
/** What was read says when; what was remembered, worked out or is done by custom has no such date. */
const dated = (each: Sourced): boolean => !!each.readOn === ['read', 'second hand'].includes(each.mark);
const datedFault = 'what was read has a date, and nothing else has one';
const limit = z
  .strictObject({
    ...sourced,
    value: z.number().min(60).max(75),
    baume: z.number().min(30).max(45),
    baumeSource: z.string().min(3),
    gates: z.boolean(),
  })
  .refine(dated, datedFault)
  .refine((each) => mayHold(each.mark) || !each.gates, 'a limit from memory never gates');
/** Read from the hottest row to the coldest. */
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
    .refine((rows) => neverRises(rows.map(({ fahrenheit }) => -fahrenheit)), 'the hottest row stands first'),
});
const labelItem = z
  .strictObject({ ...sourced, item: z.string(), carries: z.string(), aboveMillilitres: z.number().optional() })
  .refine(dated, datedFault);
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
  .refine(dated, datedFault);
const lead = z.strictObject({ ...sourced, ppb: z.number().min(1) }).refine(dated, datedFault);
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

let places: ReadonlyMap<string, PlaceRules> | undefined;

function everyPlace(): ReadonlyMap<string, PlaceRules> {
  places ??= new Map(
    readdirSync(templatePath('places'))
      .filter((file) => file.endsWith('.json') && file !== 'cautions.json')
      .map((file) => placeFile.parse(JSON.parse(readFileSync(templatePath(`places/${file}`), 'utf8'))))
      .sort((a, b) => (a.name < b.name ? -1 : 1))
      .map((rules) => [rules.id, rules]),
  );
  return places;
}

function rulesOf(id: string): PlaceRules {
  const rules = everyPlace().get(id);
  if (!rules) throw new Error(`templates/places/${id}.json is missing`);
  return rules;
}

function ofState(text: string): PlaceRules | undefined {
  const name = named(stateNames, text);
  if (!name) return undefined;
  const own = placeList().find((place) => place.name === name);
  if (own) return rulesOf(own.id);
  const standard = rulesOf('us-standard');
  const fellBack = `${name} has no rules of its own in this book, so the US grade standard judges; ask the state department of agriculture.`;
  return { ...standard, id: plain(name).replaceAll(' ', '-'), name, applies: [], fellBack };
}

function ofProvince(text: string): PlaceRules | undefined {
  const name = named(provinceNames, text);
  if (!name) return undefined;
  const own = placeList().find((place) => place.name === name);
  if (own) return rulesOf(own.id);
  const fellBack = `${name} has no rules of its own in this book, so the Canadian grade standard judges; ask the agriculture ministry of the province.`;
  return { ...rulesOf('canada'), id: plain(name).replaceAll(' ', '-'), name, applies: [], fellBack };
}

function named(names: Readonly<Record<string, string>>, text: string): string | undefined {
  return names[text.toUpperCase()] ?? Object.values(names).find((name) => plain(name) === text);
}

/** `Québec`, `new-york`, `U.S.` as `quebec`, `new york`, `us`. */
const plain = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/[\p{M}.]/gu, '')
    .toLowerCase()
    .replace(/[\s_-]+/g, ' ')
    .trim();
