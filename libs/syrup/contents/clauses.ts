import { plainText, wordSet } from './plain-words.js';

/** The clauses of a text as plain words; they end at punctuation, but not at a hyphen or slash, and at but and mais. */
export const clausesOf = (text: string): string[][] =>
  plainText(text)
    .split(/[^\p{L}\p{N}\s\-–—/]|\b(?:but|mais)\b/u)
    .map((clause) => clause.match(/[\p{L}\p{N}]+/gu) ?? []);

/** How many words before a word a denial of it may stand; bounded, so that the time grows with the length only. */
export const near = 5;

/**
 * Whether the word is denied: the denial stands before it with only the words `passed` and `between` in between, and
 * nothing in the clause takes it back (`until`, `I hope`, `not without`).
 */
export function isDenied(words: readonly string[], at: number, passed: ReadonlySet<string>): boolean {
  if (words.some((word) => takenBack.has(word))) return false;
  for (let n = at - 1; n >= Math.max(0, at - near); n--) {
    const word = words[n]!;
    if (denials.has(word)) return !denials.has(words[n - 1] ?? '');
    if (!between.has(word) && !passed.has(word)) return false;
  }
  return false;
}

const between = wordSet(
  'a an any at all one kind sort type sign signs trace traces of is are was were be been being got get getting feel felt feeling became become or nor de d du na nest a ete est etait eu tombe tombee tombes aucun aucune ni ou',
);
const takenBack = wordSet(
  'until untill til till before except besides yet unless hope hopefully hoping if whether wonder wondering maybe perhaps think thought guess suppose sure jusqua avant sauf espere peut',
);
export const denials = wordSet(
  'no not nobody noone none never without nor didnt wasnt werent isnt sans pas aucun aucune personne jamais',
);
