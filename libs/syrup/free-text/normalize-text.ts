/** Lower case, without accents: `Préchauffés` → `prechauffes`. */
export const foldAccents = (text: string): string =>
  isAscii.test(text) ? text.toLowerCase() : text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
/** Most texts: they have no accents to remove. */
const isAscii = /^[ -~\t\n\r]*$/;

/** Lower case, without accents and apostrophes, œ as oe: `n’était` → `netait`, `cœur` → `coeur`. */
export const normalizeText = (text: string): string => foldAccents(text).replace(/œ/gu, 'oe').replace(/['’]/gu, '');

/** Letters and digits in lower case without accents, one space for everything else: `Beurre d’érable` → `beurre d erable`. */
export const wordsOnly = (text: string): string =>
  foldAccents(text)
    .replace(/œ/gu, 'oe')
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();

/** A set of the words in a text, separated by single spaces. */
export const wordSet = (words: string): ReadonlySet<string> => new Set(words.split(' '));
