import { clausesOf, isNegated } from '../clauses.js';
import { normalizeText } from '../normalize-text.js';
import { isAddedIngredient } from './added-ingredient.js';
import { isAddedWater } from './added-water.js';
import { isColdAtCapping } from './cold-at-capping.js';
import { isDoubtfulInstrument } from './doubtful-instrument.js';
import { isForeignMatter } from './foreign-matter.js';
import { hasPhrase } from './match-phrases.js';
import * as list from './note-word-lists.js';
import { isOffFlavour } from './off-flavour.js';
import type { Token } from './token.js';

const wordSubjects = ['added', 'foreign', 'off', 'cold', 'instrument', 'diluted'] as const;
const noteSubjects = [...wordSubjects, 'sources', 'seals'] as const;
type WordSubject = (typeof wordSubjects)[number];
/** What a note may mention that contradicts the other fields of its record. */
export type NoteSubject = (typeof noteSubjects)[number];

/** A subject that a note mentions. */
export interface NoteConcern {
  readonly subject: NoteSubject;
  /** The words that mention it, normalized, each once; or the whole clause that contains a phrase about it. */
  readonly words: readonly string[];
}

/**
 * Finds mentions of an added ingredient, foreign matter, an off smell or taste, jars cold at capping, an instrument in
 * doubt, added water, syrup from elsewhere or seals in doubt, in English or French. Negated mentions ("no vanilla") are
 * left out. The words of a subject make one concern, and so does each clause that has a phrase about it and none of those
 * words: questions that older books answered keep their text, whatever phrase is added. Linear in the note's length: each
 * word is judged with a few words around it. The word lists are from memory.
 */
export function findNoteConcerns(note: string): readonly NoteConcern[] {
  const known = concernsByNote.get(note);
  if (known) return known;
  if (concernsByNote.size >= mostNotesKept) concernsByNote.clear();
  const concerns = readNoteConcerns(note);
  concernsByNote.set(note, concerns);
  return concerns;
}

/** A boil's note is read again for each of its packs, and each time one is judged. */
const concernsByNote = new Map<string, readonly NoteConcern[]>();
const mostNotesKept = 500;

function readNoteConcerns(note: string): NoteConcern[] {
  const capitals = new Set((note.match(/(?<=[^\s.!?]\s)\p{Lu}\p{Ll}+/gu) ?? []).map(normalizeText));
  const found = new Map<NoteSubject, Set<string>>();
  const clauses: { subject: NoteSubject; words: [string] }[] = [];
  for (const words of clausesOf(note)) {
    const mentioned = wordSubjects.filter((subject) =>
      words
        .map((word, at) => {
          if (!mentions[subject]({ words, at, word, capitals })) return false;
          found.set(subject, (found.get(subject) ?? new Set()).add(word));
          return true;
        })
        .includes(true),
    );
    for (const subject of noteSubjects)
      if (!(mentioned as NoteSubject[]).includes(subject) && hasPhrase(words, subject))
        clauses.push({ subject, words: [words.join(' ')] });
  }
  // `ginger pieces in it` raises one question, about the ginger.
  const matter = found.get('foreign');
  if (found.has('added') && matter && [...matter].every((word) => pieceWords.has(word))) found.delete('foreign');
  return noteSubjects.flatMap((subject) => {
    const words = found.get(subject);
    return [...(words ? [{ subject, words: [...words] }] : []), ...clauses.filter((each) => each.subject === subject)];
  });
}

const pieceWords = new Set([
  'bits',
  'pieces',
  'chip',
  'chips',
  'flakes',
  'something',
  'leaf',
  'leaves',
  'specks',
  'found',
]);

/** Whether a word, in its clause, mentions the subject. */
const mentions: Readonly<Record<WordSubject, (token: Token) => boolean>> = {
  added: (token) => isAddedIngredient(token) && !isNegated(token.words, token.at, list.ingredientForms),
  foreign: (token) => isForeignMatter(token) && !isNegated(token.words, token.at, skippedBeforeMatter),
  off: isOffFlavour,
  cold: isColdAtCapping,
  instrument: isDoubtfulInstrument,
  diluted: (token) => isAddedWater(token) && !isNegated(token.words, token.at, list.skippedBeforeWater),
};

const skippedBeforeMatter = new Set([
  ...list.particles,
  ...list.chemicals,
  ...list.enteringVerbs,
  'bits',
  'bit',
  'pieces',
  'piece',
]);
