import type { Mismatch } from '#libs/syrup/quantities/quantities.js';

/** The most characters of a quantity, a time, a choice, a name: far more than any of them needs. */
export const maxLetters = 100;
/** The most characters of free text: a note, a statement, a destination. */
export const maxTextLetters = 2000;
/** The most items of a list: readings of a pack, lots that went into it, jars by their codes. */
export const maxItems = 2000;

/** A field's limits, for each item where it is a list. */
export interface FieldLimit {
  readonly list: boolean;
  readonly letters: number;
  readonly items: number;
  /** The greatest count. */
  readonly atMost?: number;
}

/**
 * Why a text is too long to be parsed; checked first, so that no regular expression runs on it. Text already in the
 * book may predate the limits: it is accepted unchanged, and a longer list may keep its length.
 */
export function limitMismatch(
  { list, letters, items: maxListItems }: FieldLimit,
  typed: string,
  saved: string | undefined,
): Mismatch | undefined {
  if (typed === saved) return undefined;
  if (!list) return typed.length > letters ? tooLong(letters, typed) : undefined;
  const most = Math.max(maxListItems, saved === undefined ? 0 : items(saved).length);
  const input = items(typed);
  if (input.length > most)
    return { expected: `a list of at most ${most.toLocaleString('en-US')}`, got: `a list of ${input.length}` };
  const before = new Set(saved === undefined ? [] : items(saved));
  const long = input.find((item) => item.length > letters && !before.has(item));
  return long === undefined ? undefined : tooLong(letters, long);
}

const items = (typed: string): string[] =>
  typed
    .split(/[;|\n]/u)
    .map((item) => item.trim())
    .filter(Boolean);

/** For a reason, which is no field of a record. */
export const reasonTooLong = (why: string): Mismatch | undefined =>
  why.length > maxTextLetters ? tooLong(maxTextLetters, why) : undefined;

const tooLong = (most: number, typed: string): Mismatch => ({
  expected: `at most ${most.toLocaleString('en-US')} letters`,
  got: `${typed.length} letters`,
});
