import { isNegated, negations } from '../clauses.js';
import { notePhrases, type PhraseSubject } from './note-phrases.js';
import { phraseWords, type PhraseWordList } from './phrase-words.js';

/** One element of a phrase: a word of a set, after up to `gap` other words. */
interface Element {
  readonly gap: number;
  readonly words: ReadonlySet<string>;
}
interface Phrase {
  readonly subject: PhraseSubject;
  readonly elements: readonly Element[];
  /** Words that make a clause ordinary. */
  readonly without: ReadonlySet<string>;
}

/** Whether a clause contains a phrase about the subject, in `note-phrases.ts`, that isn’t negated. */
export function hasPhrase(words: readonly string[], subject: PhraseSubject): boolean {
  return words.some((word, at) =>
    (phrasesByFirstWord.get(word) ?? []).some(
      (phrase) =>
        phrase.subject === subject &&
        follows(words, at + 1, phrase.elements.slice(1)) &&
        !words.some((each) => phrase.without.has(each)) &&
        !isNegated(words, at, skippedBeforePhrase),
    ),
  );
}

/** `none of the jars were cold` is negated. */
const skippedBeforePhrase = new Set(['of', 'the', 'these', 'those', 'them', 'our', 'any', 'des', 'les', 'de']);

/** Whether the elements follow from index `from`. Each gap is short, so the cost of a clause is linear in its length. */
function follows(words: readonly string[], from: number, elements: readonly Element[]): boolean {
  const [element, ...rest] = elements;
  if (!element) return true;
  for (let at = from; at <= Math.min(from + element.gap, words.length - 1); at++) {
    const word = words[at]!;
    if (element.words.has(word) && follows(words, at + 1, rest)) return true;
    if (negations.has(word)) return false;
  }
  return false;
}

/** The words that `a|@list` stands for. */
const wordsOf = (element: string): string[] =>
  element
    .split('|')
    .flatMap((each) => (each.startsWith('@') ? [...phraseWords[each.slice(1) as PhraseWordList]] : each));

/** A phrase as it is written in `note-phrases.ts`. */
function parsePhrase(subject: PhraseSubject, text: string): Phrase {
  const [phrase = '', without = ''] = text.split(' ! ');
  const elements: Element[] = [];
  let gap = 0;
  for (const part of phrase.split(' '))
    if (part.startsWith('..')) gap = Number(part.slice(2));
    else {
      elements.push({ gap, words: new Set(wordsOf(part)) });
      gap = 0;
    }
  return { subject, elements, without: new Set(without.split(' ').flatMap(wordsOf)) };
}

const phrasesByFirstWord = new Map<string, Phrase[]>();
for (const [subject, texts] of Object.entries(notePhrases))
  for (const text of texts) {
    const phrase = parsePhrase(subject as PhraseSubject, text);
    for (const word of phrase.elements[0]?.words ?? [])
      phrasesByFirstWord.set(word, [...(phrasesByFirstWord.get(word) ?? []), phrase]);
  }
