import { isNegated, maxDistance, negations } from '../clauses.js';
import * as list from './note-word-lists.js';
import { hasNear, type Token } from './token.js';

/** Whether the word says that jars or syrup were cold when they were capped: `the last dozen were lukewarm`. */
export function isColdAtCapping(token: Token): boolean {
  const { words, at, word } = token;
  const [before, next] = [words[at - 1] ?? '', words[at + 1] ?? ''];
  if (isColdAt(token)) return true;
  if (list.limitWords.has(word) && belowWords.has(before))
    return !hasNear(token, list.forecast, maxDistance, maxDistance);
  if (list.notHotEnough.has(word))
    return !hasNear(token, list.coldDrink, 2, 3) && !isNegated(words, at, skippedBeforeCold);
  const isNotHot = word === 'hot' && hasNear(token, notHot, 2, 0);
  if (word === 'warm' ? !list.onlyWarm.has(before) : !isNotHot && !list.coldWords.has(word)) return false;
  if (list.weather.has(next) || (hasNear(token, list.coldSubjects, 3, 0) && !hasNear(token, list.jarWords, 3, 0)))
    return false;
  if (!isNotHot && isNegated(words, at, skippedBeforeCold)) return false;
  if (isNotHot && hasNear(token, list.coldThings, maxDistance, 0)) return true;
  if (next === 'syrup' && hasNear(token, list.filledWords, maxDistance, 0)) return true;
  if (list.becomingWords.has(before) && hasNear(token, syrupOrKettle, 3, 0))
    if (word === 'cold' || hasNear(token, list.cappingWords, 8, 6)) return true;
  return isColdWhenCapped(token) || isCappedCold(token) || isColdJar(token);
}

const syrupOrKettle = new Set(['syrup', 'kettle', 'sirop', 'filler']);

const notHot = new Set([...negations, 'arent', 'longer', 'hardly']);

const skippedBeforeCold = new Set([...list.jarWords, 'the', 'these', 'those', 'them', 'too']);

/** `cold when we capped them`, `cooled down, then filled`. */
function isColdWhenCapped({ words, at }: Token): boolean {
  const after = words.slice(at + 1, at + 9);
  const joined = after.findIndex((each) => list.connectors.has(each));
  if (joined >= 0 && after.slice(joined + 1).some((each) => list.cappingWords.has(each))) return true;
  const followed = after.findIndex((each) => list.thenWords.has(each));
  return followed >= 0 && after.slice(followed + 1, followed + 4).some((each) => list.filledWords.has(each));
}

/** `capped cold`, `filled the last row cool`. */
function isCappedCold({ words, at }: Token): boolean {
  for (let n = at - 1; n >= Math.max(0, at - maxDistance); n--) {
    const each = words[n]!;
    if (list.filledWords.has(each)) return true;
    if (!list.skippedAfterFilled.has(each)) return false;
  }
  return false;
}

/** `jars were cold`, `cold bottles`: hot syrup drops below the limit in them. */
function isColdJar(token: Token): boolean {
  const { words, at, word } = token;
  if (!coldJarWords.has(word) || hasNear(token, list.warmedJars, maxDistance, 8)) return false;
  if (list.jarWords.has(words[at + 1] ?? '')) return true;
  for (let n = at - 1; n >= Math.max(0, at - maxDistance); n--) {
    const each = words[n]!;
    if (list.jarWords.has(each)) return true;
    if (!list.skippedBeforeColdJar.has(each)) return false;
  }
  return false;
}

const coldJarWords = new Set(['cold', 'chilly', 'froid', 'froids', 'froides']);

/** `capped at about 165`, `below 180 before the last jars were filled`; jars and pints are counts. */
function isColdAt(token: Token): boolean {
  const { words, at, word } = token;
  if (!/^1\d\d$/u.test(word) || list.quantityWords.has(words[at + 1] ?? '')) return false;
  const isBelow = hasNear(token, belowWords, 1, 0);
  if (isBelow && Number(word) <= 180) return hasNear(token, list.cappingWords, maxDistance, 7);
  if (Number(word) >= 180) return false;
  if (hasNear(token, list.filledWords, 4, 0) && words.slice(Math.max(0, at - 2), at).includes('at')) return true;
  return (
    hasNear(token, onlyWords, 1, 0) &&
    hasNear(token, list.temperatureOf, maxDistance, 0) &&
    !hasNear(token, notKettle, maxDistance, maxDistance)
  );
}

const notKettle = new Set([...list.forecast, 'arch', 'stack', 'oven']);

const onlyWords = new Set(['only', 'just', 'to', 'barely']);

const belowWords = new Set(['below', 'under']);
