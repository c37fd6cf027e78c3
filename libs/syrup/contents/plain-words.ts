/**
 * The form in which words are compared: lower case, without accents and apostrophes: `n’était` → `netait`, `cœur` →
 * `coeur`.
 */
export const plainText = (text: string): string =>
  text.normalize('NFD').replace(/\p{M}/gu, '').replace(/œ/giu, 'oe').toLowerCase().replace(/['’]/gu, '');

/** A set of words, given as one text separated by spaces. */
export const wordSet = (words: string): ReadonlySet<string> => new Set(words.split(' '));
