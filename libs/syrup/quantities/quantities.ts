/**
 * Parses quantities as people write them. Each parser takes text with its unit and returns the text as typed with the
 * SI value, or what was expected. Nothing here rounds: 180 F and 82 C keep their values, so that a reading can be
 * judged in the unit it was read in.
 */
import { isAmbiguousComma, parseDecimal, splitAmount } from './amount-text.js';
import {
  type DensityScale,
  type MassUnit,
  type TemperatureUnit,
  type VolumeUnit,
  millilitresIn,
  gramsIn,
  temperatureUnits,
  volumeUnits,
  markedVolumeUnits,
  densityScales,
  scaleBounds,
  pressureUnits,
  lengthUnits,
  massUnits,
} from './units.js';

export interface Temperature {
  readonly typed: string;
  readonly unit: TemperatureUnit;
  /** The number as read, in `unit`. */
  readonly degrees: number;
  readonly celsius: number;
}
export interface Volume {
  readonly typed: string;
  readonly unit: VolumeUnit;
  readonly amount: number;
  readonly millilitres: number;
}
export interface DensityReading {
  readonly typed: string;
  readonly scale: DensityScale;
  readonly reading: number;
}
export interface Pressure {
  readonly typed: string;
  readonly kilopascals: number;
}
export interface Length {
  readonly typed: string;
  readonly millimetres: number;
}
export interface Mass {
  readonly typed: string;
  readonly unit: MassUnit;
  readonly grams: number;
}
export interface Percent {
  readonly typed: string;
  readonly percent: number;
}
/** Why a text could not be parsed: what was expected, and what arrived. */
export interface Mismatch {
  readonly expected: string;
  readonly got: string;
}
export type Parsed<T> =
  { readonly value: T; readonly mismatch?: never } | { readonly mismatch: Mismatch; readonly value?: never };

/** What a `gal` without `US` or `imp` means; in Canadian books it is ambiguous and refused. */
export interface VolumeOptions {
  readonly bareGallons: 'US' | 'refused';
}

/** °C to °F; exact by definition. */
export const fahrenheitOf = (celsius: number): number => (celsius * 9) / 5 + 32;
/** °F to °C; exact by definition. */
export const celsiusOf = (fahrenheit: number): number => ((fahrenheit - 32) * 5) / 9;

/** Parses a temperature with its unit, from -60 to 400 °C. */
export function parseTemperature(text: string): Parsed<Temperature> {
  const expected = 'a temperature like 186 F or 85.5 C';
  const found = splitQuantity(text, true);
  if (!found) return mismatch(expected, text);
  const unit = temperatureUnits[found.unit];
  if (!unit) return mismatch(expected, text);
  const celsius = unit === 'F' ? celsiusOf(found.number) : found.number;
  if (celsius < -60 || celsius > 400) return mismatch(`${expected}, between -60 C and 400 C`, text);
  return { value: { typed: text.trim(), unit, degrees: found.number, celsius } };
}

/** Parses a volume with its unit, from zero to a million litres; in Canada a bare US customary unit is refused. */
export function parseVolume(text: string, options: VolumeOptions = { bareGallons: 'US' }): Parsed<Volume> {
  const canadian = options.bareGallons === 'refused';
  const expected = canadian
    ? 'a volume like 40 L, 250 mL, 10 imp gal or 12.5 US gal (a bare gal, qt, pt or fl oz could be either: write US or imp)'
    : 'a volume like 12.5 gal, 3 qt, 1 pt, 8 fl oz, 10 imp gal, 40 L or 250 mL';
  const found = splitQuantity(text);
  if (!found) return mismatch(expected, text);
  const bare = volumeUnits[found.unit];
  if (bare && canadian && !['L', 'mL'].includes(bare)) return mismatch(expected, text);
  const unit = bare ?? markedVolumeUnits[found.unit];
  if (!unit) return mismatch(expected, text);
  if (found.number < 0) return mismatch(`${expected}, not below zero`, text);
  const millilitres = found.number * millilitresIn[unit];
  if (millilitres > 1e9) return mismatch(`${expected}, no more than a million litres`, text);
  return { value: { typed: text.trim(), unit, amount: found.number, millilitres } };
}

/** Parses a density as read: °Bx, °Bé or specific gravity. */
export function parseDensity(text: string): Parsed<DensityReading> {
  const expected = 'a density like 66.9 Bx, 36 Be or 1.328 SG';
  const found = splitQuantity(text, true);
  if (!found) return mismatch(expected, text);
  const scale = densityScales[found.unit];
  if (!scale) return mismatch(expected, text);
  const [low, high] = scaleBounds[scale];
  if (found.number < low || found.number > high)
    return mismatch(`${expected}, between ${low} and ${high} ${scale}`, text);
  return { value: { typed: text.trim(), scale, reading: found.number } };
}

/** Parses a station pressure with its unit. */
export function parsePressure(text: string): Parsed<Pressure> {
  const expected = 'a station pressure like 29.4 inHg, 98.2 kPa or 982 hPa';
  const found = splitQuantity(text);
  const kilopascalsEach = found && pressureUnits[found.unit];
  if (!found || !kilopascalsEach) return mismatch(expected, text);
  const kilopascals = found.number * kilopascalsEach;
  if (kilopascals < 40 || kilopascals > 115) return mismatch(`${expected}, between 40 and 115 kPa`, text);
  return { value: { typed: text.trim(), kilopascals } };
}

/** Parses a length in inches or millimetres. */
export function parseLength(text: string): Parsed<Length> {
  const expected = 'a length like 3.5 in or 64 mm';
  const found = splitQuantity(text);
  const millimetresEach = found && lengthUnits[found.unit];
  if (!found || !millimetresEach || found.number < 0) return mismatch(expected, text);
  return { value: { typed: text.trim(), millimetres: found.number * millimetresEach } };
}

/** Parses an elevation in feet or metres: 1400 ft, 430 m. */
export function parseElevation(text: string): Parsed<Length> {
  const expected = 'an elevation like 1400 ft or 430 m';
  const found = splitQuantity(text);
  const millimetresEach = found && (found.unit === 'ft' || found.unit === 'm') ? lengthUnits[found.unit] : undefined;
  if (!found || !millimetresEach) return mismatch(expected, text);
  const millimetres = found.number * millimetresEach;
  if (millimetres < -500_000 || millimetres > 6_000_000)
    return mismatch(`${expected}, between -500 m and 6000 m`, text);
  return { value: { typed: text.trim(), millimetres } };
}

/** Parses a mass in pounds, ounces, grams or kilograms. */
export function parseMass(text: string): Parsed<Mass> {
  const expected = 'a weight like 11.03 lb, 12 oz, 313 g or 1.2 kg';
  const found = splitQuantity(text);
  const unit = found && massUnits[found.unit];
  if (!found || !unit || found.number < 0) return mismatch(expected, text);
  return { value: { typed: text.trim(), unit, grams: found.number * gramsIn[unit] } };
}

/** Parses a percentage from 0 to 100. */
export function parsePercent(text: string): Parsed<Percent> {
  const expected = 'a percentage like 61 %, from 0 to 100';
  const found = splitQuantity(text);
  if (!found || !['%', 'percent', 'pct'].includes(found.unit)) return mismatch(expected, text);
  if (found.number < 0 || found.number > 100) return mismatch(expected, text);
  return { value: { typed: text.trim(), percent: found.number } };
}

function mismatch(expected: string, text: string): { mismatch: Mismatch } {
  return { mismatch: { expected, got: text.trim() === '' ? 'nothing' : `"${text.trim()}"` } };
}

/**
 * Splits a number and its unit, lower-cased and without spaces, dots or (where `degreeSign` is true) °. A decimal comma
 * is accepted; a comma before exactly three digits is refused, for `1,200` is ambiguous. A point is always the decimal
 * mark, so `1.200 gal` is 1.2 gal. An exponent, `1e5 L`, is no unit.
 */
function splitQuantity(text: string, degreeSign = false): { number: number; unit: string } | undefined {
  const found = splitAmount(text);
  if (!found || isAmbiguousComma(found.digits)) return undefined;
  const number = found.sign * parseDecimal(found.digits);
  if (!Number.isFinite(number)) return undefined;
  let unit = found.rest.toLowerCase().replace(/[\s. ]/g, '');
  if (degreeSign) unit = unit.replace(/[°º˚]/gu, '');
  // Own keys only, since `186 constructor` would find an inherited property.
  if (unit in Object.prototype) return undefined;
  return { number, unit };
}
