import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';
import { plainText, wordSet } from './plain-words.js';

/** Sap that went into a boil. */
export interface SapUsed {
  readonly lot: string;
  /** How it looked and smelled, as typed. */
  readonly condition: string;
}

/**
 * Sap that was recorded as cloudy, slimy or with an off smell holds the boil, and its packs, until a maker releases the
 * boil with a reason. What boiling leaves in the syrup of spoiled sap, nobody measures here: common practice, no source.
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

/** Whether a text about sap names a sign of spoilage that isn't denied directly before it. Words from memory. */
function isSpoiled(condition: string): boolean {
  const words = plainText(condition).match(/[\p{L}\p{N}]+/gu) ?? [];
  const smells = words.some((word) => smell.has(word));
  return words.some((word, at) => {
    const isSign = sign.test(word) || (smells && smellOff.has(word));
    return isSign && !denials.has(words[at - 1] ?? '');
  });
}

const sign =
  /^(?:cloud(?:y|ed|ier)|murky|milky|turbid|slim(?:e|ey|y)|ropy|ropey|stringy|sour(?:ed|ish)?|ferment\w*|taint(?:ed)?|spoil(?:ed|t|ing)?|rotten|rancid|musty|mou?ld\w*|curdled|foul|stinks?|stinky|trouble|visqueu\w*|filant\w*|sure?s?|aigre|gatee?s?|pourri\w*|moisi\w*|puant\w*|suri\w*)$/u;
const smell = wordSet('smell smells smelled smelling smelly odor odour nose taste tastes tasted sent odeur gout');
const smellOff = wordSet(
  'off odd bad funny strange wrong weird yeasty vinegar vinegary alcohol smelly chemical fuel gas mauvais mauvaise bizarre drole vinaigre alcool',
);
const denials = wordSet('no not non never pas jamais sans without');
