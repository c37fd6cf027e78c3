import { describe, expect, test } from '@jest/globals';
import { readFileSync } from 'node:fs';
import { findHarm } from '#libs/syrup/free-text/find-harm.js';
import { findUnclearText } from '#libs/syrup/free-text/harmless-text.js';
import { findSpoilage } from '#libs/syrup/free-text/find-spoilage.js';
import { packageRoot } from '#libs/package-root.js';

/** What people say of a jar, in sets written before they were first run, English and French, with misspellings. */
const examples = (kind: 'unsafe' | 'harmless'): readonly string[] =>
  readFileSync(`${packageRoot}/tests/fixtures/said-of-jars-${kind}.txt`, 'utf8').trim().split('\n');
const hasBadWord = (text: string): boolean => findSpoilage(text).length + findHarm(text).length > 0;
const isQuestioned = (text: string): boolean => hasBadWord(text) || findUnclearText(text) !== undefined;

describe('a text about a jar, with no question answered', () => {
  test('of 1,200 texts about a fault, at most one in a hundred raises no question', () => {
    const missed = examples('unsafe').filter((text) => !isQuestioned(text));
    expect(missed.length / examples('unsafe').length).toBeLessThan(0.01);
  });

  test('of 1,200 texts of praise, orders, prices and labels, at most one in ten raises a question', () => {
    const needless = examples('harmless').filter(isQuestioned);
    expect(needless.length / examples('harmless').length).toBeLessThan(0.1);
  });

  test.each([
    'sirop sur',
    'lid came up by itself',
    'bulles et mousse',
    'a head on it like beer',
    'crunchy bits like glass',
    'delicious but the lid was already up',
    'the lid was not tight',
    'FUR',
    'lovely 🤢',
    'it was better last week',
    'good '.repeat(300),
  ])('“%s” raises a question', (text) => expect(isQuestioned(text)).toBe(true));

  test.each(['', ' - ', 'delicious', 'Très bon, merci!', 'OE, the kids love it', 'love it ❤', 'box arrived crushed'])(
    '“%s” does not',
    (text) => expect(isQuestioned(text)).toBe(false),
  );
});
