/**
 * Lot codes that people can read and write on paper. A boil's code is the year, the day of the year it began
 * and a letter in sequence; a pack's is its boil's code and a run number; a blend's has X in place of the letter.
 */

export type LotCode = BoilLot | PackLot | BlendLot;
export interface BoilLot {
  readonly kind: 'boil';
  readonly code: string;
  readonly year: number;
  readonly dayOfYear: number;
  readonly letters: string;
}
export interface PackLot {
  readonly kind: 'pack';
  readonly code: string;
  readonly year: number;
  readonly dayOfYear: number;
  /** The code of the boil it was drawn from. */
  readonly boil: string;
  readonly run: number;
}
export interface BlendLot {
  readonly kind: 'blend';
  readonly code: string;
  readonly year: number;
  readonly dayOfYear: number;
  readonly run: number;
}

/** Parses a code in any case; undefined when it is invalid (for example day 366 outside a leap year). */
export function parseLotCode(text: string): LotCode | undefined {
  const parts = /^(\d{2})(\d{3})([A-Z]{1,4})(?:-([1-9]\d{0,3}))?$/.exec(text.trim().toUpperCase());
  if (!parts) return undefined;
  const year = 2000 + Number(parts[1]);
  const dayOfYear = Number(parts[2]);
  const letters = parts[3] ?? '';
  const run = parts[4] === undefined ? undefined : Number(parts[4]);
  if (!isDayOf(year, dayOfYear)) return undefined;
  if (letters === blendLetter) {
    return run === undefined
      ? undefined
      : { kind: 'blend', code: blendCode(year, dayOfYear, run), year, dayOfYear, run };
  }
  if (indexOfLetters(letters) === undefined) return undefined;
  const boil = `${dayStamp(year, dayOfYear)}${letters}`;
  if (run === undefined) return { kind: 'boil', code: boil, year, dayOfYear, letters };
  return { kind: 'pack', code: packCode(boil, run), year, dayOfYear, boil, run };
}

/** The code of boil number `index` of its day, counted from 0. Years run from 2000 to 2099. */
export function boilCode(year: number, dayOfYear: number, index: number): string {
  return `${dayStamp(year, dayOfYear)}${lettersAt(index)}`;
}

/** The code of the boil's pack number `run`: `26077A-1`. Throws where the number is out of range. */
export function packCode(boil: string, run: number): string {
  return `${boil}-${checkedRun(run)}`;
}

/** The code of a pack of several boils, by the day it was packed. Throws where the number is out of range. */
export function blendCode(year: number, dayOfYear: number, run: number): string {
  return `${dayStamp(year, dayOfYear)}${blendLetter}-${checkedRun(run)}`;
}

/**
 * A code as shown beside those of other sugarhouses: `BL 26077A`. Without the prefix a code is unique only within its
 * sugarhouse.
 */
export const prefixedLot = (prefix: string, code: string): string => (prefix === '' ? code : `${prefix} ${code}`);

/** The letter after `last`, or A for the first boil of a day: A … W, AA, AB …, AW, BA. */
export function nextBoilLetter(last?: string): string {
  if (last === undefined) return lettersAt(0);
  const index = indexOfLetters(last.toUpperCase());
  if (index === undefined) throw new RangeError(`${last} is not a boil's letter`);
  return lettersAt(index + 1);
}

/** Without I and O, which look like 1 and 0, and without X to Z. */
const boilLetters = 'ABCDEFGHJKLMNPQRSTUVW';
/** In place of a boil’s letter; no boil has it. */
const blendLetter = 'X';

function lettersAt(index: number): string {
  if (!Number.isInteger(index) || index < 0)
    throw new RangeError(`a boil's place in its day is 0 or more, not ${index}`);
  let letters = '';
  for (let left = index + 1; left > 0; left = Math.floor((left - 1) / boilLetters.length))
    letters = boilLetters.charAt((left - 1) % boilLetters.length) + letters;
  return letters;
}

function indexOfLetters(letters: string): number | undefined {
  let index = 0;
  for (const letter of letters) {
    const place = boilLetters.indexOf(letter);
    if (place < 0) return undefined;
    index = index * boilLetters.length + place + 1;
  }
  return index === 0 ? undefined : index - 1;
}

function dayStamp(year: number, dayOfYear: number): string {
  if (!Number.isInteger(year) || year < 2000 || year > 2099)
    throw new RangeError(`a lot's year runs from 2000 to 2099, not ${year}`);
  if (!isDayOf(year, dayOfYear)) throw new RangeError(`${year} has no day ${dayOfYear}`);
  return `${String(year % 100).padStart(2, '0')}${String(dayOfYear).padStart(3, '0')}`;
}

function isDayOf(year: number, dayOfYear: number): boolean {
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return Number.isInteger(dayOfYear) && dayOfYear >= 1 && dayOfYear <= (leap ? 366 : 365);
}

function checkedRun(run: number): number {
  if (!Number.isInteger(run) || run < 1) throw new RangeError(`a run is counted from 1, not ${run}`);
  return run;
}
