import { clausesOf, isDenied } from './clauses.js';
import { wordSet } from './plain-words.js';

/**
 * Words that say that syrup was packed into something that held another food or no food, or was closed with lids used
 * before: `mayonnaise jars`, `old pickle pails`, `reused lids`. Jars made for canning, used again with new lids, are
 * ordinary. English and French, from memory.
 */
export function unfitContainerIn(text: string): string[] {
  const found = clausesOf(text).flatMap((words) =>
    words.filter((_, at) => isUnfit(words, at) && !isDenied(words, at, passed)),
  );
  return [...new Set(found)];
}

function isUnfit(words: readonly string[], at: number): boolean {
  const [before, word, next, second] = [words[at - 1] ?? '', words[at] ?? '', words[at + 1] ?? '', words[at + 2] ?? ''];
  const isVessel = (each: string): boolean => vessels.has(each);
  if (notForSyrup.has(word) && before === 'de') return isVessel(words[at - 2] ?? '');
  if (notForSyrup.has(word) && words.some((each) => elsewhere.has(each))) return false;
  // A spirit barrel is asked about as a flavour.
  if (notForSyrup.has(word) && /^barrels?$/u.test(next)) return false;
  if (notForSyrup.has(word)) return isVessel(next) || (foodWords.has(next) && isVessel(second));
  if (canningJars.has(word)) return old.has(before) && isVessel(next);
  if (word === 'peanut') return next === 'butter' && isVessel(second);
  const isSecondHand = secondHand.has(word) || (word === 'second' && next === 'hand');
  const what = word === 'second' || ['the', 'our', 'some'].includes(next) ? second : next;
  if (isSecondHand && (lids.has(what) || isVessel(what))) return true;
  // `lids were used before`, `lids reused`.
  if (lids.has(word)) return secondHand.has(next) || (next === 'used' && second !== 'today') || usedBefore(words, at);
  // `in used jars`, `used lids`; not `used jars from the new case`.
  if (word !== 'used') return false;
  if (lids.has(next)) return !notOld.has(before) || words.length === 2;
  return isVessel(next) && (beforeUsed.has(before) || words.length === 2);
}

const usedBefore = (words: readonly string[], at: number): boolean =>
  words.slice(at + 1, at + 6).includes('before') && words.slice(at + 1, at + 5).includes('used');

const vessels = wordSet(
  'jar jars bottle bottles jug jugs pail pails bucket buckets container containers can cans tub tubs barrel barrels drum drums pot pots bocal bocaux bouteille bouteilles seau seaux contenant contenants',
);
const lids = wordSet('lid lids cap caps couvercle couvercles');
const notForSyrup = wordSet(
  'mayonnaise mayo pickle pickles salsa spaghetti pasta relish olive olives mustard ketchup vinegar milk soda pop water wine beer liquor whiskey icing frosting lard detergent bleach soap paint drywall mud chemical antifreeze oil cleaner salt mayonaise cornichons lait moutarde peinture',
);
const foodWords = wordSet('sauce glass plastic');
/** Names of new jars for canning too: only `old jelly jars` held something else. */
const canningJars = wordSet('jam jelly confiture');
const old = wordSet('old used washed empty emptied leftover vieux');
const secondHand = wordSet('reused secondhand recycled salvaged leftover reutilise reutilises recycle recycles usages');
const beforeUsed = wordSet('in into of our some these those with were are few the all old half many from dans');
const notOld = wordSet('we i never');
/** The container is somewhere else: `bleach bottle empty`, `moved the paint cans out`. */
const elsewhere = wordSet('empty out shelf order orders moved bought buy sink trash');
const passed = wordSet('old used any reused');
