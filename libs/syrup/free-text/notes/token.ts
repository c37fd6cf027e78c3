import { negations } from '../clauses.js';
import * as list from './note-word-lists.js';

/** A word of a note, with its clause. */
export interface Token {
  /** The clause, normalized. */
  readonly words: readonly string[];
  /** The index of the word in it. */
  readonly at: number;
  readonly word: string;
  /** Normalized words of the note that begin with a capital inside a sentence: probably names. */
  readonly capitals: ReadonlySet<string>;
}

/** Whether any of the `before` words before the token, or of the `after` words after it, is in the set. */
export const hasNear = ({ words, at }: Token, set: ReadonlySet<string>, before: number, after: number): boolean =>
  words.slice(Math.max(0, at - before), at).some((word) => set.has(word)) ||
  words.slice(at + 1, at + 1 + after).some((word) => set.has(word));

/** Whether `in the kettle` or `into it` follows within six words, or begins up to `before` words earlier. */
export const isIn = ({ words, at }: Token, vessels: ReadonlySet<string>, before = 0): boolean =>
  words.slice(Math.max(0, at - before), at + 7).some((word, n) => {
    if (!list.intoWords.has(word)) return false;
    const from = Math.max(0, at - before) + n + 1;
    return words.slice(from, from + 4).some((each) => vessels.has(each));
  });

/** English and French for "with". */
export const withWords = new Set(['with', 'avec']);

/** Vessels by name, without "it" and "half". */
export const solidVessels = new Set([...list.vessels].filter((word) => !['it', 'them', 'each', 'half'].includes(word)));

/** Negations, and contractions such as "doesn’t" that negate only the verb after them. */
export const negationsAndContractions = new Set([
  ...negations,
  'doesnt',
  'dont',
  'didnt',
  'cant',
  'cannot',
  'couldnt',
  'wont',
  'wouldnt',
]);
