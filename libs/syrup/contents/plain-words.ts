/** As words are compared: lower case, accents and apostrophes off: `n’était` → `netait`, `cœur` → `coeur`. */
export const plainText = (text: string): string =>
  text.normalize('NFD').replace(/\p{M}/gu, '').replace(/œ/giu, 'oe').toLowerCase().replace(/['’]/gu, '');

/** Words parted by spaces, to be looked up. */
export const wordSet = (words: string): ReadonlySet<string> => new Set(words.split(' '));
