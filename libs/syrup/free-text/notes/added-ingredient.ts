import { maxDistance } from '../clauses.js';
import * as list from './note-word-lists.js';
import { hasNear, isIn, type Token, withWords } from './token.js';

/** Whether the word is an ingredient that was put into the syrup: `added two vanilla beans`. */
export function isAddedIngredient(token: Token): boolean {
  const { words, at, word, capitals } = token;
  const next = words[at + 1] ?? '';
  if (list.infusing.has(word))
    return !list.notIngredient.has(next) && !hasNear(token, list.awayFromSyrup, maxDistance, maxDistance);
  if (word === 'smoked') return ['over', 'with', 'in', 'syrup', 'maple', 'batch'].includes(next);
  if (list.barrels.has(word))
    return hasNear(token, list.agedIn, 4, 4) && !hasNear(token, list.awayFromSyrup, maxDistance, maxDistance);
  if (list.ageing.has(word)) return hasNear(token, list.agedIn, 0, 4);
  const isCornSyrup = word === 'corn' && next === 'syrup';
  if (!isCornSyrup && !list.ingredients.has(word)) return false;
  if (words.slice(Math.max(0, at - maxDistance), at).some((each) => list.tasteWords.has(each))) return false;
  if (list.notIngredient.has(next) || ['smell', 'taste', 'notes'].includes(next)) return false;
  const isInSyrup = isIn(token, list.vessels, maxDistance);
  const isPutIn = hasNear(token, list.putIn, 4, 3);
  const hasForm = list.ingredientForms.has(next) || hasNear(token, list.ingredientForms, 2, 0);
  if (!isInSyrup && !isPutIn && hasNear(token, list.awayFromSyrup, maxDistance, maxDistance)) return false;
  if (
    isInSyrup ||
    hasForm ||
    (hasNear(token, list.havingWords, 3, 0) && hasNear(token, list.someJars, maxDistance + 1, 0))
  )
    return true;
  if (list.alsoNames.has(word) && capitals.has(word)) return false;
  return (
    isPutIn || hasNear(token, withWords, 4, 0) || words.every((each) => list.ingredients.has(each) || isBeside(each))
  );
}

const isBeside = (word: string): boolean => list.besideIngredient.has(word) || list.ingredientForms.has(word);
