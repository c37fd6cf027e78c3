import { readFileSync, readdirSync } from 'node:fs';
import { templatePath } from '#libs/package-root.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';
import { usStateNames } from '#libs/syrup/labelling/us-states.js';
import { provinceNames, standardNames } from './place-names.js';
import { invalid, type Refusal } from '../record/problem.js';

/**
 * The rules of a place by its id, name or code: `vermont`, `Vermont`, `VT`, `us`. Without `place` the US grade
 * standard. A state or province without a file of its own gets its country's standard, and `fallbackNotice` says so.
 */
export function placeRules(place?: string): PlaceRules | Refusal {
  const text = normalizeName(place ?? '');
  if (text === '') return usGradeStandard();
  const known = placeList().find(({ id, name }) => [normalizeName(id), normalizeName(name)].includes(text));
  const id = known?.id ?? (Object.hasOwn(standardNames, text) ? standardNames[text] : undefined);
  if (id) return rulesById(id);
  if (text === 'ca') return invalid('place', 'California or Canada in full: CA is the code of both', '"CA"');
  return rulesForState(text) ?? rulesForProvince(text) ?? invalid('place', placeExpected, `"${place?.trim() ?? ''}"`);
}

/** The rules where no place is set. */
export const usGradeStandard = (): PlaceRules => rulesById('us-standard');

/** The standard of its country, which also applies in a state or province. */
export const gradeStandardOf = ({ canada }: PlaceRules): PlaceRules => rulesById(canada ? 'canada' : 'us-standard');

/** Every place that has a file of its own, by name. */
export function placeList(): readonly { readonly id: string; readonly name: string }[] {
  return [...loadPlaces().values()].map(({ id, name }) => ({ id, name }));
}

export const placeExpected =
  'a place such as Vermont, NY, Ontario or us-standard; any US state or Canadian province is taken';

let places: ReadonlyMap<string, PlaceRules> | undefined;

/** Not validated here: place-file.ts checks the files when the server starts and in the tests, not in each command. */
function loadPlaces(): ReadonlyMap<string, PlaceRules> {
  places ??= new Map(
    readdirSync(templatePath('places'))
      .filter((file) => file.endsWith('.json') && file !== 'cautions.json')
      .map((file) => JSON.parse(readFileSync(templatePath(`places/${file}`), 'utf8')) as PlaceRules)
      .sort((a, b) => (a.name < b.name ? -1 : 1))
      .map((rules) => [rules.id, rules]),
  );
  return places;
}

function rulesById(id: string): PlaceRules {
  const rules = loadPlaces().get(id);
  if (!rules) throw new Error(`templates/places/${id}.json is missing`);
  return rules;
}

function rulesForState(text: string): PlaceRules | undefined {
  const name = findName(usStateNames, text);
  if (!name) return undefined;
  const own = placeList().find((place) => place.name === name);
  if (own) return rulesById(own.id);
  const standard = usGradeStandard();
  const fallbackNotice = `${name} has no rules of its own in this book, so the US grade standard applies; ask the state department of agriculture.`;
  return { ...standard, id: normalizeName(name).replaceAll(' ', '-'), name, applies: [], fellBack: fallbackNotice };
}

function rulesForProvince(text: string): PlaceRules | undefined {
  const name = findName(provinceNames, text);
  if (!name) return undefined;
  const own = placeList().find((place) => place.name === name);
  if (own) return rulesById(own.id);
  const fellBack = `${name} has no rules of its own in this book, so the Canadian grade standard applies; ask the agriculture ministry of the province.`;
  return { ...rulesById('canada'), id: normalizeName(name).replaceAll(' ', '-'), name, applies: [], fellBack };
}

function findName(names: Readonly<Record<string, string>>, text: string): string | undefined {
  return names[text.toUpperCase()] ?? Object.values(names).find((name) => normalizeName(name) === text);
}

/** Normalises `Québec`, `new-york`, `U.S.` to `quebec`, `new york`, `us`. */
const normalizeName = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/[\p{M}.]/gu, '')
    .toLowerCase()
    .replace(/[\s_-]+/g, ' ')
    .trim();
