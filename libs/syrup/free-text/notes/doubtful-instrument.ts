import { isNegated, maxDistance } from '../clauses.js';
import * as list from './note-word-lists.js';
import { hasNear, negationsAndContractions, type Token } from './token.js';

/** Whether the word is an instrument or a reading that the note calls wrong or a guess: `thermometer jumps around`. */
export function isDoubtfulInstrument(token: Token): boolean {
  const { words, at, word } = token;
  if (list.readingWords.has(word)) {
    if (hasNear(token, list.forecast, maxDistance, maxDistance)) return false;
    return words.some(
      (each, n) =>
        Math.abs(n - at) < maxDistance && list.guessWords.has(each) && !isNegated(words, n, skippedBeforeDoubt),
    );
  }
  if (!(list.instruments.has(word) || /^[thr]\d{1,2}$/u.test(word)) || list.otherInstrument.has(words[at - 1] ?? ''))
    return false;
  const next = words[at + 1] ?? '';
  if (hasNear(token, list.withoutWords, 2, 0)) return !list.trouble.has(next);
  if (
    hasNear(token, trustWords, maxDistance, maxDistance) &&
    hasNear(token, negationsAndContractions, maxDistance, maxDistance)
  )
    return true;
  return words.some((each, n) => {
    if (Math.abs(n - at) > maxDistance || !list.faultWords.has(each)) return false;
    if (each === 'dead' && words[n + 1] === 'on') return false;
    if ((each === 'high' || each === 'low') && !list.wordsBeforeHighOrLow.has(words[n - 1] ?? '')) return false;
    if ((each === 'dropped' || each === 'fell') && hasNear(token, list.testCup, 0, maxDistance)) return false;
    if (words[n - 1] === 'turned' || words[n - 1] === 'switched') return false;
    return !isNegated(words, n, skippedBeforeDoubt);
  });
}

const trustWords = new Set(['trust', 'agree', 'agreed', 'right', 'sure', 'settle', 'steady', 'working', 'read']);

const skippedBeforeDoubt = new Set([...list.instruments, ...list.readingWords, 'reads', 'read', 'too', 'very']);
