import type { Mismatch } from '#libs/syrup/quantities/quantities.js';

/** Characters of a quantity, a time, a choice, a name: far more than any of them needs. */
export const mostLettersUsually = 100;
/** Characters of free text: a note, what was said, where it went. */
export const mostLettersOfText = 2000;
/** Items of a list: readings of a pack, lots that went into it, jars by their codes. */
export const mostItems = 2000;

/** What a field takes at most, of each item where it is a list. */
export interface FieldLimit {
  readonly list: boolean;
  readonly letters: number;
  readonly items: number;
  /** Of a count. */
  readonly atMost?: number;
}

/**
 * Why a text is too long to be parsed; checked first, so that no regular expression runs on it. What the book already
 * holds is older than the limits: as it stands there it is taken, and a list that was longer may stay as long.
 */
export function beyondLimit(
  { list, letters, items: usual }: FieldLimit,
  typed: string,
  saved: string | undefined,
): Mismatch | undefined {
  if (typed === saved) return undefined;
  if (!list) return typed.length > letters ? tooLong(letters, typed) : undefined;
  const most = Math.max(usual, saved === undefined ? 0 : items(saved).length);
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

/** Of a reason, which is no field of a record. */
export const reasonTooLong = (why: string): Mismatch | undefined =>
  why.length > mostLettersOfText ? tooLong(mostLettersOfText, why) : undefined;

const tooLong = (most: number, typed: string): Mismatch => ({
  expected: `at most ${most.toLocaleString('en-US')} letters`,
  got: `${typed.length} letters`,
});
