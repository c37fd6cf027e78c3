import { maxDistance } from '../clauses.js';
import * as list from './note-word-lists.js';
import { hasNear, isIn, type Token, withWords } from './token.js';

/** Whether the word says that water got into the syrup or its jars: `thinned it with hot water`, `jars were wet`. */
export function isAddedWater(token: Token): boolean {
  const { words, at, word } = token;
  const next = words[at + 1] ?? '';
  if (/^dilut/u.test(word) || word === 'dilue' || word === 'diluee')
    return !hasNear(token, list.notSyrup, maxDistance, maxDistance);
  if (word === 'thinned' || word === 'eclairci')
    return next !== 'by' && !hasNear(token, list.forestWords, maxDistance, maxDistance);
  if (word === 'watered')
    return (
      next === 'down' ||
      (hasNear(token, downWords, 0, 2) && next === 'it') ||
      next === 'syrup' ||
      (next === 'it' && at + 2 === words.length)
    );
  if (word === 'cut') return ['with', 'it'].includes(next) && hasNear(token, list.waterWords, 0, maxDistance);
  if (list.wetWords.has(word))
    return hasNear(token, list.jarWords, 3, 3) && !hasNear(token, list.wetElsewhere, maxDistance, maxDistance);
  if (word === 'rinsed' || word === 'rinse')
    return next !== 'with' && words.includes('into') && hasNear(token, syrupAndJarWords, 0, 6);
  if (word === 'water' || word === 'sap') {
    const isLetDown = hasNear(token, withWords, 3, 0) && hasNear(token, list.downOrThick, 6, 0);
    if (isLetDown && !hasNear(token, list.fullWords, 6, 2) && !hasNear(token, list.waterElsewhere, 8, maxDistance))
      return true;
  }
  if (!list.waterWords.has(word)) return false;
  if (isIn(token, list.jarWords) && next === 'in') return !hasNear(token, list.warmingJars, maxDistance, maxDistance);
  if (isIn(token, list.vessels) && hasNear(token, enteringWords, maxDistance, maxDistance))
    return !hasNear(token, list.warmingJars, maxDistance, maxDistance);
  return (
    word !== 'rain' &&
    word !== 'snow' &&
    hasNear(token, list.adding, 6, maxDistance) &&
    !hasNear(token, list.waterElsewhere, maxDistance, maxDistance)
  );
}

const syrupAndJarWords = new Set(['batch', 'syrup', 'jar', 'jars', 'it', 'pack']);

const downWords = new Set(['down']);

const enteringWords = new Set([
  ...list.enteringVerbs,
  'left',
  'some',
  'ran',
  'was',
  'were',
  'still',
  'spilled',
  'splashed',
  'reste',
]);
