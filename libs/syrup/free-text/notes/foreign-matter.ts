import { maxDistance } from '../clauses.js';
import * as list from './note-word-lists.js';
import { hasNear, isIn, solidVessels, type Token } from './token.js';

/** Whether the word is something that got into the syrup and doesn’t belong there: `rust flakes in the kettle`. */
export function isForeignMatter(token: Token): boolean {
  const { words, at, word } = token;
  const next = words[at + 1] ?? '';
  if (list.droppingVerbs.has(word)) return isDripping(token);
  if (word === 'found') return isIn(token, foundInVessels) && !hasNear(token, notMatterFound, 0, maxDistance);
  const isChemical = list.chemicals.has(word);
  if (!isChemical && !list.particles.has(word) && !(word === 'aid' && words[at - 1] === 'band')) return false;
  if (list.notMatter.has(next)) return false;
  if (hasNear(token, list.lostWords, 0, 2)) return true;
  if (next === 'on' && hasNear(token, syrupWords, 0, 3)) return true;
  if (isChemical && list.looseBits.has(next)) return !hasNear(token, list.outsideWords, maxDistance, maxDistance);
  if (list.soiling.has(word) && next === 'on' && hasNear(token, list.onLids, 0, 4)) return true;
  if ((word === 'oil' || word === 'huile') && hasNear(token, list.defoaming, maxDistance, 8)) return false;
  if (isIn(token, list.vessels) || (isChemical && isIn(token, list.sapVessels))) return true;
  // `flaked off the filler`, `peeling above the pan`, `dripped in`.
  if (!hasNear(token, list.enteringVerbs, maxDistance, maxDistance)) return false;
  const endsInside = list.intoWords.has(words.at(-1) ?? '') && words.length - at <= maxDistance + 2;
  return endsInside || (hasNear(token, list.overVessel, 0, maxDistance) && hasNear(token, solidVessels, 0, 8));
}

/** `roof leaked into the pan`, `a pen cap fell in`. */
function isDripping(token: Token): boolean {
  const { words, at } = token;
  if (hasNear(token, list.ordinarySubjects, maxDistance, 2) || hasNear(token, nothingWords, 3, 0)) return false;
  return (
    isIn({ ...token, words: words.slice(0, at + 6) }, solidVessels) ||
    (list.intoWords.has(words[at + 1] ?? '') && at + 2 === words.length)
  );
}

const syrupWords = new Set(['syrup', 'sirop']);

const nothingWords = new Set(['nothing', 'rien']);

const foundInVessels = new Set([...list.vessels, 'pump', 'strainer']);

const notMatterFound = new Set(['leak', 'hole', 'crack', 'trouble', 'it', 'them']);
