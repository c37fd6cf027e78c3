import type { Fields } from '../record/fields.js';
import { readFields } from '../record/read-fields.js';
import { ownAuthorities } from '../places/authority.js';
import type { ParseOptions } from '../record/parse-options.js';
import type { SugarhouseContext } from '../record/write-context.js';
import { unknown, type Refusal } from '../record/problem.js';
import {
  colourCalculator,
  jarPlanCalculator,
  seasonRatioCalculator,
  typeHeightCalculator,
  yieldCalculator,
} from './amounts.js';
import { appliesCalculator } from './applies.js';
import { finishCalculator, thermometerCalculator } from './boiling.js';
import {
  blendCalculator,
  densityCalculator,
  hydrometerReadingCalculator,
  thickenCalculator,
  thinCalculator,
} from './density.js';
import {
  fillLevelCalculator,
  fillCalculator,
  shrinkCalculator,
  weighedJarsCalculator,
  weightCalculator,
} from './filling.js';
import { flag, type Answer, type Calculator } from './calculator.js';
import { thickeningCalculator } from './thickening.js';

/** All calculators, in the order of the page. */
export const calculators: readonly Calculator[] = [
  densityCalculator,
  hydrometerReadingCalculator,
  finishCalculator,
  thickeningCalculator,
  thinCalculator,
  thickenCalculator,
  blendCalculator,
  fillCalculator,
  fillLevelCalculator,
  shrinkCalculator,
  weightCalculator,
  weighedJarsCalculator,
  jarPlanCalculator,
  yieldCalculator,
  seasonRatioCalculator,
  colourCalculator,
  typeHeightCalculator,
  thermometerCalculator,
  appliesCalculator,
];

/**
 * Runs a calculator on texts by field name (camelCase): `reckon('shrink', { fillAt: '180 F', density: '66.9 Bx' },
 * options)`. Reads and writes nothing in the book.
 */
export function reckon(
  name: string,
  input: Readonly<Record<string, unknown>>,
  options: ParseOptions,
): Answer | Refusal {
  const calculator = calculators.find((each) => each.name === name);
  if (!calculator) return unknown('question', name);
  const read = readFields(calculator.fields, withFlagsAsText(input), options);
  if ('faults' in read) return { problem: { kind: 'invalid', faults: read.faults } };
  const answer = calculator.answer(read.body as never);
  return 'problem' in answer ? answer : { ...answer, figures: roundFigures(answer.figures) };
}

/**
 * The same from within a book: a calculator that needs a place or country defaults to the book's, and the one about
 * which rules apply names the authority that the maker asks.
 */
export function calculateForBook(
  name: string,
  input: Readonly<Record<string, unknown>>,
  { house, place, parseOptions: options }: SugarhouseContext,
): Answer | Refusal {
  const asks = calculators.find((each) => each.name === name)?.fields ?? {};
  const typed = Object.entries(input).filter(([, value]) => value !== '');
  const own = Object.entries({ place: house?.place || place.id, country: place.country });
  const all = Object.fromEntries([...own.filter(([field]) => Object.hasOwn(asks, field)), ...typed]);
  const answer = reckon(name, all, options);
  if ('problem' in answer || name !== appliesCalculator.name) return answer;
  return { ...answer, asks: [...(answer.asks ?? []), ...ownAuthorities(house)] };
}

/** Rounded to a millionth: further digits are binary rounding noise. */
const roundFigures = <T>(figures: T): T =>
  Object.fromEntries(
    Object.entries(figures as Record<string, unknown>).map(([name, value]) => [
      name,
      typeof value === 'number' ? Math.round(value * 1e6) / 1e6 : value,
    ]),
  ) as T;

export interface CalculatorField {
  /** camelCase, as in JSON. */
  readonly name: string;
  /** As on the command line: `--water-boils`. */
  readonly option: string;
  readonly label: string;
  readonly hint: string;
  readonly example: string;
  readonly required: boolean;
  /** An option without a value; a checkbox on the page. */
  readonly flag: boolean;
  readonly list: boolean;
  readonly choices: readonly string[];
}

/** The fields of a calculator, for its form and for `--help`. */
export function calculatorFields(calculator: Calculator): readonly CalculatorField[] {
  return Object.entries(calculator.fields).map(([name, field]) => ({
    name,
    option: `--${name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`,
    label: field.label,
    hint: field.hint,
    example: field.example,
    required: field.needed,
    flag: isFlag(field),
    list: field.list,
    choices: field.choices ?? [],
  }));
}

const isFlag = (field: Fields[string]): boolean => (field.read as unknown) === flag;

const withFlagsAsText = (input: Readonly<Record<string, unknown>>): Record<string, unknown> =>
  Object.fromEntries(
    Object.entries(input).map(([name, value]) => [name, typeof value === 'boolean' ? (value ? 'yes' : '') : value]),
  );
