import { isNegated, maxDistance } from '../clauses.js';
import { findSpoilage } from '../find-spoilage.js';
import { goodComparisons } from '../harmless-word-lists.js';
import * as list from './note-word-lists.js';
import { hasNear, negationsAndContractions, type Token } from './token.js';

/** Whether the word says that the syrup smells or tastes wrong: `smells of plastic`, `tastes a bit off`. */
export function isOffFlavour(token: Token): boolean {
  const { words, at, word } = token;
  // Signs of spoilage raise a question of their own (judge-spoilage.ts).
  const isNotSpoilage = (): boolean => findSpoilage(words.slice(Math.max(0, at - 8), at + 9).join(' ')).length === 0;
  const [before, next] = [words[at - 1] ?? '', words[at + 1] ?? ''];
  if (word === 'buddy')
    return (
      (list.buddyAfter.has(next) ||
        list.buddyBefore.has(before) ||
        list.tasteWords.has(before) ||
        list.tasteWords.has(next)) &&
      !isNegated(words, at, list.tasteWords)
    );
  if (list.tasteWords.has(word)) {
    if (hasNear(token, list.goodWords, 0, 3) && hasNear(token, negationsAndContractions, 3, 2)) return isNotSpoilage();
    return isBadComparison(token) && isNotSpoilage();
  }
  if (!list.offWords.has(word) || isNegated(words, at, list.tasteWords)) return false;
  if (list.tasteWords.has(next)) return isNotSpoilage();
  if (before === 'something' && hasNear(token, ofSyrup, 0, maxDistance)) return isNotSpoilage();
  if (list.notAfterOff.has(next)) return false;
  for (let n = at - 1; n >= Math.max(0, at - maxDistance); n--) {
    const each = words[n]!;
    if (list.tasteWords.has(each)) return isNotSpoilage();
    if (!list.skippedBeforeOff.has(each) && !list.offWords.has(each)) return false;
  }
  return false;
}

const ofSyrup = new Set([...list.tasteWords, 'syrup', 'it', 'batch', 'jar', 'jars']);

/** `smells like a wet dog`, `tastes of plastic`; not `smells like spring`. */
function isBadComparison({ words, at }: Token): boolean {
  const next = words[at + 1] ?? '';
  const what = words.slice(at + 2, at + 5);
  if (what.some((word) => list.badComparisons.has(word)) && ['of', 'like', 'de', 'comme', 'le', 'la'].includes(next))
    return !words.slice(at, at + 9).some((word) => list.smokeOutside.has(word));
  return (
    next === 'like' &&
    what.length > 0 &&
    !what.some((word) => goodComparisons.has(word) || list.alsoGoodComparisons.has(word))
  );
}
