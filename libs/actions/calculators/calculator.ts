import { thickestBrix, trueBrix } from '#libs/syrup/science/corrected.js';
import { parseArea, type Area } from '#libs/syrup/labelling/panel-area.js';
import {
  fahrenheitOf,
  parseDensity,
  parseElevation,
  parseLength,
  parseMass,
  parsePercent,
  parsePressure,
  parseTemperature,
  type Length,
  type Mass,
  type Parsed,
  type Pressure,
  type Temperature,
  type Volume,
} from '#libs/syrup/quantities/quantities.js';
import { millilitresIn } from '#libs/syrup/quantities/units.js';
import { volume, type BodyOf, type Fields } from '../record/fields.js';
import type { ParseOptions } from '../record/parse-options.js';
import type { Refusal } from '../record/problem.js';

/** A calculator's result: numbers with their unit in the name, the same in plain words, and the sources. */
export interface Answer {
  readonly figures: Readonly<Record<string, Figure>>;
  readonly sentences: readonly string[];
  readonly sources: readonly string[];
  /** Whom to ask, and about what. */
  readonly asks?: readonly string[];
  /** Points that each have a source of their own. */
  readonly points?: readonly { readonly topic: string; readonly says: string; readonly source: string }[];
  /** What was searched for and not found. */
  readonly notFound?: readonly string[];
}
export type Figure = number | string | boolean | null | readonly Readonly<Record<string, number | string>>[];

export interface Calculator {
  readonly name: string;
  readonly title: string;
  readonly fields: Fields;
  readonly answer: (body: never) => Answer | Refusal;
}

/**
 * Checks a calculator's fields against its function where it is declared; the table of calculators erases their types.
 */
export const defineCalculator = <const F extends Fields>(input: {
  readonly name: string;
  readonly title: string;
  readonly fields: F;
  readonly answer: (body: BodyOf<F>) => Answer | Refusal;
}): Calculator => input;

/** A density as typed, and as true °Bx. */
export interface TrueDensity {
  readonly typed: string;
  readonly brix: number;
}

type Parser<T> = (text: string) => Parsed<T>;

/** 0 °Bx is water, where the tables begin. */
export const trueDensity: Parser<TrueDensity> = (text) => {
  const parsed = parseDensity(text);
  if (parsed.mismatch) return parsed;
  const brix = trueBrix(parsed.value);
  if (brix !== undefined) return { value: { typed: parsed.value.typed, brix } };
  const expected = `a density of 0–${thickestBrix} °Bx, since the formulas were published for that range`;
  return { mismatch: { expected, got: `"${parsed.value.typed}"` } };
};

/** Sugar of sap, as °Bx or percent; above zero, since water makes no syrup. */
export const sugar: Parser<TrueDensity> = (text) => {
  const percent = parsePercent(text).value;
  const parsed = trueDensity(percent ? `${percent.percent} Bx` : text);
  const expected = 'the sugar of the sap, like 2 Bx or 2 %';
  if (parsed.mismatch)
    return { mismatch: { expected: `${expected}; ${parsed.mismatch.expected}`, got: parsed.mismatch.got } };
  if (parsed.value.brix < 0.1) return { mismatch: { expected: `${expected}, 0.1 or more`, got: `"${text.trim()}"` } };
  return { value: { ...parsed.value, typed: text.trim() } };
};

/** A temperature within the range of the density formula. */
export const liquidTemperature: Parser<Temperature> = (text) => {
  const parsed = parseTemperature(text);
  if (parsed.mismatch) return parsed;
  const { celsius, typed } = parsed.value;
  if (celsius < -1e-9 || celsius > 100 + 1e-9)
    return {
      mismatch: {
        expected:
          'a temperature like 186 F or 85.5 C, not outside 0–100 °C (32–212 °F), where the formula was published',
        got: `"${typed}"`,
      },
    };
  return parsed;
};

/** The boiling point of water in an open pan, with a margin above and below that of any sugarhouse. */
export const boilingWater: Parser<Temperature> = (text) => {
  const parsed = parseTemperature(text);
  if (parsed.mismatch || (parsed.value.celsius >= 75 && parsed.value.celsius <= 104)) return parsed;
  return {
    mismatch: { expected: 'water that boils between 167 F and 219 F (75–104 C)', got: `"${parsed.value.typed}"` },
  };
};

/** A volume above zero. */
export const positiveVolume = (text: string, options: ParseOptions): Parsed<Volume> =>
  aboveZero(volume(text, options), (value) => value.millilitres, text);

/** Parses a temperature with its unit, without the limits of a record's field. */
export const anyTemperature: Parser<Temperature> = (text) => parseTemperature(text);
/** Parses a station pressure such as `29.4 inHg` or `98.2 kPa`. */
export const pressure: Parser<Pressure> = (text) => parsePressure(text);
/** Parses an elevation in feet or metres. */
export const elevation: Parser<Length> = (text) => parseElevation(text);
/** Parses a length above zero. */
export const length: Parser<Length> = (text) => aboveZero(parseLength(text), (value) => value.millimetres, text);
/** Parses a mass above zero. */
export const mass: Parser<Mass> = (text) => aboveZero(parseMass(text), (value) => value.grams, text);
/** Parses an area above zero. */
export const area: Parser<Area> = (text) => aboveZero(parseArea(text), (value) => value.squareMillimetres, text);

/** A checked box, or an option that is present. */
export const flag: Parser<boolean> = (text) =>
  /^(yes|true|on|1)$/i.test(text)
    ? { value: true }
    : /^(no|false|off|0)$/i.test(text)
      ? { value: false }
      : { mismatch: { expected: 'yes or no', got: `"${text}"` } };

/** A parsed quantity that must be above zero; a mismatch where it is not. */
export function aboveZero<T>(parsed: Parsed<T>, amount: (value: T) => number, text: string): Parsed<T> {
  if (parsed.mismatch || amount(parsed.value) > 0) return parsed;
  return { mismatch: { expected: 'more than nothing', got: `"${text.trim()}"` } };
}

/** A number with a fixed number of decimals. */
export const fixed = (value: number, decimals = 1): string => value.toFixed(decimals);
/** A temperature in °F and °C, with one decimal each. */
export const bothDegrees = (celsius: number): string => `${fixed(fahrenheitOf(celsius))} °F (${fixed(celsius)} °C)`;
export const onlyDensity = 'Only a density reading proves density; a thermometer says when to take one.';

/** A volume in US and metric units: fluid ounces and millilitres below a quart, else gallons and litres. */
export const amount = (millilitres: number): string =>
  millilitres < millilitresIn.qt
    ? `${fixed(millilitres / millilitresIn['fl oz'])} US fl oz (${fixed(millilitres, 0)} mL)`
    : `${fixed(millilitres / millilitresIn.gal, 2)} US gal (${fixed(millilitres / 1000, 2)} L)`;
