import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';
import { normalizeText, wordSet } from '../free-text/normalize-text.js';

/** Sap that went into a boil. */
export interface SapUsed {
  readonly lot: string;
  /** How it looked and smelled, as typed. */
  readonly condition: string;
}

/**
 * Sap that was recorded as cloudy, slimy or with an off smell holds the boil, and its packs, until a maker releases the
 * boil with a reason. Common practice, no source.
 */
export const judgeSap = (boil: string, sap: readonly SapUsed[]): Finding[] =>
  sap
    .filter(({ condition }) => isSpoiled(condition))
    .map(({ lot, condition }) =>
      findingOf('sap-question', {
        limit: 'sap that is clear and smells of nothing; cloudy, slimy or tainted sap is thrown out',
        found: `boil ${boil} began with ${lot}, recorded as “${condition.trim().slice(0, 80)}”: was it thrown out, and is the syrup sound?`,
        about: `gathering/${lot}`,
        wayOut:
          'Taste and smell the syrup beside a retained sample. If that sap was thrown out or the syrup is sound, release the boil with that reason: its packs are released with it. Otherwise destroy it.',
        identity: { evidence: { boil, sap: lot, condition: condition.trim() } },
      }),
    );

/** Whether a text about sap names a sign of spoilage without a negation directly before it. Words from memory. */
function isSpoiled(condition: string): boolean {
  const words = normalizeText(condition).match(/[\p{L}\p{N}]+/gu) ?? [];
  const smells = words.some((word) => smellWords.has(word));
  return words.some((word, at) => {
    const isSign = spoiledSapWords.test(word) || (smells && offSmellWords.has(word));
    return isSign && !negations.has(words[at - 1] ?? '');
  });
}

const spoiledSapWords =
  /^(?:cloud(?:y|ed|ier)|murky|milky|turbid|slim(?:e|ey|y)|ropy|ropey|stringy|sour(?:ed|ish)?|ferment\w*|taint(?:ed)?|spoil(?:ed|t|ing)?|rotten|rancid|musty|mou?ld\w*|curdled|foul|stinks?|stinky|trouble|visqueu\w*|filant\w*|sure?s?|aigre|gatee?s?|pourri\w*|moisi\w*|puant\w*|suri\w*)$/u;
const smellWords = wordSet('smell smells smelled smelling smelly odor odour nose taste tastes tasted sent odeur gout');
const offSmellWords = wordSet(
  'off odd bad funny strange wrong weird yeasty vinegar vinegary alcohol smelly chemical fuel gas mauvais mauvaise bizarre drole vinaigre alcool',
);
const negations = wordSet('no not non never pas jamais sans without');
