import { normalizeText, wordSet } from './normalize-text.js';

/** The clauses of a text, each as its normalized words. A clause ends at punctuation other than a hyphen or slash, and at but and mais. */
export const clausesOf = (text: string): string[][] =>
  normalizeText(text)
    .split(/[^\p{L}\p{N}\s\-–—/]|\b(?:but|mais)\b/u)
    .map((clause) => clause.match(/[\p{L}\p{N}]+/gu) ?? []);

/** How far from a word, in words, a negation or another word still concerns it. Bounded, so that searching stays linear. */
export const maxDistance = 5;

/**
 * Whether the word at index `at` is negated: a negation is before it, with only function words and `skipped` words in
 * between, and the clause contains no hedge (`until`, `I hope`). A double negation (`not without`) negates nothing.
 */
export function isNegated(words: readonly string[], at: number, skipped: ReadonlySet<string>): boolean {
  if (words.some((word) => hedges.has(word))) return false;
  for (let n = at - 1; n >= Math.max(0, at - maxDistance); n--) {
    const word = words[n]!;
    if (negations.has(word)) return !negations.has(words[n - 1] ?? '');
    if (!functionWords.has(word) && !skipped.has(word)) return false;
  }
  return false;
}

const functionWords = wordSet(
  'a an any at all one kind sort type sign signs trace traces of is are was were be been being got get getting feel felt feeling became become or nor de d du na nest a ete est etait eu tombe tombee tombes aucun aucune ni ou',
);
const hedges = wordSet(
  'until untill til till before except besides yet unless hope hopefully hoping if whether wonder wondering maybe perhaps think thought guess suppose sure jusqua avant sauf espere peut',
);
export const negations = wordSet(
  'no not nobody noone none never without nor didnt wasnt werent isnt sans pas aucun aucune personne jamais',
);
