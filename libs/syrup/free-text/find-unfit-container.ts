import { clausesOf, isNegated } from './clauses.js';
import { hasPhrase } from './notes/match-phrases.js';
import { wordSet } from './normalize-text.js';

/**
 * Finds words for containers that held another food or no food, and for lids used before: `mayonnaise jars`, `old pickle
 * pails`, `reused lids`. Canning jars used again with new lids are ordinary. English and French, from memory.
 */
export function findUnfitContainer(text: string): string[] {
  const found = clausesOf(text).flatMap((words) =>
    words.filter((_, at) => isUnfit(words, at) && !isNegated(words, at, skippedBeforeUnfit)),
  );
  return [...new Set(found)];
}

/**
 * The clauses of texts with a phrase for such a container or lid, as `last year’s lids` (note-phrases.ts), each once. They
 * raise the question where `findUnfitContainer` finds no word, so that questions already answered keep their text.
 */
export const unfitContainerClauses = (texts: readonly string[]): string[] => [
  ...new Set(
    texts.flatMap((text) =>
      clausesOf(text).flatMap((words) => (hasPhrase(words, 'container') ? [words.join(' ')] : [])),
    ),
  ),
];

function isUnfit(words: readonly string[], at: number): boolean {
  const [before, word, next, second] = [words[at - 1] ?? '', words[at] ?? '', words[at + 1] ?? '', words[at + 2] ?? ''];
  const isVessel = (each: string): boolean => vessels.has(each);
  if (otherContents.has(word) && before === 'de') return isVessel(words[at - 2] ?? '');
  if (otherContents.has(word) && words.some((each) => elsewhereWords.has(each))) return false;
  // A whiskey barrel raises the question about added flavours (added-ingredient.ts).
  if (otherContents.has(word) && /^barrels?$/u.test(next)) return false;
  if (otherContents.has(word)) return isVessel(next) || (foodWords.has(next) && isVessel(second));
  if (canningJars.has(word)) return oldWords.has(before) && isVessel(next);
  if (word === 'peanut') return next === 'butter' && isVessel(second);
  const isSecondHand = secondHand.has(word) || (word === 'second' && next === 'hand');
  const what = word === 'second' || ['the', 'our', 'some'].includes(next) ? second : next;
  if (isSecondHand && (lids.has(what) || isVessel(what))) return true;
  // `lids were used before`, `lids reused`.
  if (lids.has(word)) return secondHand.has(next) || (next === 'used' && second !== 'today') || usedBefore(words, at);
  // `in used jars`, `used lids`; not `used jars from the new case`.
  if (word !== 'used') return false;
  if (lids.has(next)) return !peopleAndNever.has(before) || words.length === 2;
  return isVessel(next) && (wordsBeforeUsed.has(before) || words.length === 2);
}

const usedBefore = (words: readonly string[], at: number): boolean =>
  words.slice(at + 1, at + 6).includes('before') && words.slice(at + 1, at + 5).includes('used');

const vessels = wordSet(
  'jar jars bottle bottles jug jugs pail pails bucket buckets container containers can cans tub tubs barrel barrels drum drums pot pots bocal bocaux bouteille bouteilles seau seaux contenant contenants',
);
const lids = wordSet('lid lids cap caps couvercle couvercles');
const otherContents = wordSet(
  'mayonnaise mayo pickle pickles salsa spaghetti pasta relish olive olives mustard ketchup vinegar milk soda pop water wine beer liquor whiskey icing frosting lard detergent bleach soap paint drywall mud chemical antifreeze oil cleaner salt mayonaise cornichons lait moutarde peinture',
);
const foodWords = wordSet('sauce glass plastic');
/** New canning jars have these names too, so only `old jelly jars` held something else. */
const canningJars = wordSet('jam jelly confiture');
const oldWords = wordSet('old used washed empty emptied leftover vieux');
const secondHand = wordSet('reused secondhand recycled salvaged leftover reutilise reutilises recycle recycles usages');
const wordsBeforeUsed = wordSet('in into of our some these those with were are few the all old half many from dans');
const peopleAndNever = wordSet('we i never');
/** Words about a container that is not being filled: `bleach bottle empty`, `moved the paint cans out`. */
const elsewhereWords = wordSet('empty out shelf order orders moved bought buy sink trash');
const skippedBeforeUnfit = wordSet('old used any reused');
