import { normalizeText } from './normalize-text.js';
import {
  clauseEndWords,
  mouldNouns,
  mouldWords,
  mouldMisspelt,
  filmWords,
  filmsOnlyOnSyrup,
  buyingWords,
  colourWords,
  topWords,
  wordsNearAlive,
  otherGrowthWords,
  isOrTurned,
  surfaceWords,
  jarContentWords,
  existenceWords,
  packagingWords,
  castingWords,
  mouldTools,
  articles,
  printWords,
  growingWords,
  jarAndLidWords,
  swellingWords,
  ordinarySwelling,
  gasWords,
  ordinaryGas,
  skimmingWords,
  cookingWords,
  poppingWords,
  lidWords,
  byItselfWords,
  sparklingDrinks,
  gasReleaseWords,
  fuelWords,
  fermentWords,
  ordinaryFermentation,
  alcoholWords,
  stinkingWords,
  strangeWords,
  wrongSmellWords,
  pressureWords,
  openingWords,
  wordsBeforeOff,
  syrupWords,
  switchableThings,
  wordsAfterOff,
  tasteWords,
  englishTasteWords,
  souringWords,
  ordinarySourness,
  becomingWords,
  spoilingWords,
  otherSpoiledThings,
  isPossibleSign,
  negations,
  notNegatedBefore,
  skippedWords,
  negativeAnswers,
} from './spoilage-word-lists.js';

export type SpoilageSign = 'mould' | 'gas' | 'fermented';
export interface SpoilageWord {
  readonly sign: SpoilageSign;
  /** Normalized: lower case, without accents and apostrophes. */
  readonly word: string;
}

/**
 * Finds words of mould, gas and fermentation in a text, English or French, each word once. Words negated in the same
 * clause ("no sign of mould", "sans moisissure", "mould: none") are left out; where the negation isn't clear the word is
 * returned, and a question is raised. Linear in the text's length.
 */
export function findSpoilage(text: string): SpoilageWord[] {
  const plain = normalizeText(text);
  // Most texts contain no such word and need not be split into clauses.
  if (!(plain.match(/\p{L}+/gu) ?? []).some(isPossibleSign)) return [];
  const found = splitClauses(plain).flatMap((clause) =>
    clause.words.flatMap((word, at): SpoilageWord[] => {
      const sign = signAt(clause.words, at);
      return sign && !isSignNegated(clause, at) ? [{ sign, word }] : [];
    }),
  );
  return [...new Map(found.map((each) => [each.word, each])).values()];
}

/** Whether a clause names a sign of spoilage and negates every one: `no mould`, `aucune moisissure`. */
export const negatesSpoilage = (clause: string): boolean =>
  splitClauses(normalizeText(clause)).some(({ words }) => words.some((_, at) => signAt(words, at) !== undefined)) &&
  findSpoilage(clause).length === 0;

interface Clause {
  readonly words: readonly string[];
  /** The clause after it, where a colon or a question mark separates them: `mould: none`, `mouldy? no`. */
  readonly answer: readonly string[] | undefined;
}

/**
 * Clauses end at punctuation and at but, though, although, mais, however: a negation applies within its clause only.
 * Unlike clauses.ts, a clause here keeps the answer after it.
 */
function splitClauses(plain: string): Clause[] {
  const parts: { words: string[]; isQuestion: boolean }[] = [{ words: [], isQuestion: false }];
  for (const [token] of plain.matchAll(/[\p{L}\p{N}]+|[^\p{L}\p{N}\s\-–—/]/gu)) {
    const last = parts.at(-1)!;
    if (/^[\p{L}\p{N}]/u.test(token) && !clauseEndWords.has(token)) last.words.push(token);
    else if (last.words.length > 0) {
      last.isQuestion = token === ':' || token === '?';
      parts.push({ words: [], isQuestion: false });
    }
  }
  return parts.map(({ words: text, isQuestion }, at) => ({
    words: text,
    answer: isQuestion ? parts[at + 1]?.words : undefined,
  }));
}

/**
 * How many words on each side decide a word's meaning. Bounded, so that a clause isn't searched in quadratic time.
 */
const contextWords = 8;

/** A word of a clause, its neighbours, and a search among the words around it. */
interface WordInContext {
  readonly words: readonly string[];
  readonly at: number;
  readonly before: string;
  readonly word: string;
  readonly next: string;
  readonly isNear: (set: ReadonlySet<string>) => boolean;
}

/** What a word means: a sign; false where it means something else here; undefined where it is none of these words. */
type Meaning = SpoilageSign | false | undefined;

function signAt(words: readonly string[], at: number): SpoilageSign | undefined {
  const [before, word, next] = [words[at - 1] ?? '', words[at] ?? '', words[at + 1] ?? ''];
  if (!isPossibleSign(word)) return undefined;
  const isNear = (set: ReadonlySet<string>): boolean =>
    words.slice(Math.max(0, at - contextWords), at + contextWords + 1).some((each) => set.has(each));
  const context = { words, at, before, word, next, isNear };
  return (mouldMeaning(context) ?? gasMeaning(context) ?? fermentationMeaning(context)) || undefined;
}

function mouldMeaning({ words, at, before, word, next, isNear }: WordInContext): Meaning {
  if (mouldNouns.has(word)) {
    const cast =
      castingWords.has(before) ||
      before === 'into' ||
      (words[at - 2] === 'into' && articles.has(before)) ||
      (['for', 'of', 'a'].includes(next) && castingWords.has(words[at + 2] ?? '')) ||
      (isNear(castingWords) && isNear(buyingWords));
    return cast || mouldTools.has(next) ? false : 'mould';
  }
  if (word === 'alive' || word === 'living') return isNear(wordsNearAlive) ? 'mould' : false;
  if (word === 'growth') return isNear(otherGrowthWords) ? false : 'mould';
  if (isOrTurned.has(before) && colourWords.has(word) && isNear(surfaceWords))
    return isNear(packagingWords) ? false : 'mould';
  if (word === 'fuzz' || word === 'fuzzy') return isNear(printWords) ? false : 'mould';
  if (mouldWords.has(word) || mouldMisspelt.test(word)) return 'mould';
  if (
    colourWords.has(word) &&
    ['in', 'on', 'inside', 'dans', 'sur'].includes(next) &&
    isNear(jarContentWords) &&
    isNear(existenceWords)
  )
    return isNear(packagingWords) ? false : 'mould';
  if ((word === 'spots' || word === 'specks') && isNear(existenceWords) && !isNear(packagingWords)) return 'mould';
  if (word === 'film' && isNear(syrupWords) && !isNear(packagingWords)) return 'mould';
  if (filmWords.has(word) && !isNear(packagingWords) && !isNear(cookingWords) && !isNear(skimmingWords))
    return isNear(topWords) || (!filmsOnlyOnSyrup.has(word) && (colourWords.has(before) || colourWords.has(next)))
      ? 'mould'
      : false;
  if (
    growingWords.has(word) &&
    (before === 'something' || words[at - 2] === 'something' || ['on', 'inside', 'under', 'in'].includes(next)) &&
    isNear(jarAndLidWords)
  )
    return 'mould';
  return undefined;
}

function gasMeaning({ before, word, isNear }: WordInContext): Meaning {
  if (swellingWords.has(word)) return isNear(ordinarySwelling) ? false : 'gas';
  if (word === 'bubbling' || word === 'frothing') return isNear(cookingWords) ? false : 'gas';
  if (gasWords.has(word)) return isNear(ordinaryGas) ? false : 'gas';
  if (word === 'sparkling') return isNear(sparklingDrinks) ? 'gas' : false;
  if (poppingWords.has(word)) return isNear(lidWords) && isNear(byItselfWords) ? 'gas' : false;
  if (word === 'gas') return isNear(gasReleaseWords) && !isNear(fuelWords) && before !== 'of' ? 'gas' : false;
  if (word === 'spat' || word === 'spit') return isNear(openingWords) ? 'gas' : false;
  if (pressureWords.has(word))
    return isNear(lidWords) || isNear(openingWords) ? (isNear(cookingWords) ? false : 'gas') : false;
  return undefined;
}

function fermentationMeaning({ words, at, before, word, next, isNear }: WordInContext): Meaning {
  if (souringWords.has(word)) return isNear(ordinarySourness) ? false : 'fermented';
  if (fermentWords.has(word))
    return (word === 'rotten' && spoilingWords.has(before)) || isNear(ordinaryFermentation) ? false : 'fermented';
  if (alcoholWords.has(word))
    return (['like', 'of', 'comme', 'strong', 'hard', 'de', 'du', 'le', 'la'].includes(before) ||
      tasteWords.has(next)) &&
      (isNear(tasteWords) || words[at - 2] === 'mother')
      ? 'fermented'
      : false;
  if (word === 'turned') return ['had', 'has', 'have'].includes(before) && next === '' ? 'fermented' : false;
  if (word === 'tourne') return isNear(tasteWords) ? 'fermented' : false;
  if (strangeWords.has(word) && becomingWords.has(before)) return 'fermented';
  if (stinkingWords.has(word)) return next === 'bug' || next === 'bugs' ? false : 'fermented';
  // `sent` is French for smells and English for posted: “the wrong size was sent”.
  if (wrongSmellWords.has(word) && isNear(word === 'wrong' ? englishTasteWords : tasteWords)) return 'fermented';
  if (word === 'lalcool' || word === 'dalcool') return isNear(tasteWords) ? 'fermented' : false;
  if (word === 'bad' && becomingWords.has(before)) return 'fermented';
  if ((word === 'off' || word === 'bad') && next === '' && isOrTurned.has(before))
    return isNear(syrupWords) && !isNear(switchableThings) ? 'fermented' : false;
  if (word === 'off' && wordsBeforeOff.has(before) && !wordsAfterOff.has(next))
    return isNear(switchableThings) ? false : 'fermented';
  if (spoilingWords.has(word)) return next === 'rotten' || isNear(otherSpoiledThings) ? false : 'fermented';
  return undefined;
}

/** Whether the sign is negated: only skipped words and other signs are between the negation and it, or `none` follows. */
function isSignNegated({ words: text, answer }: Clause, at: number): boolean {
  for (let n = at - 1; n >= Math.max(0, at - contextWords); n--) {
    const word = text[n] ?? '';
    if (negations.has(word)) return !notNegatedBefore.has(text[n + 1] ?? '');
    if (!skippedWords.has(word) && signAt(text, n) === undefined) break;
  }
  const after = text[at + 1] ?? '';
  if (['free', 'absent', 'absente'].includes(after)) return true;
  if (after === 'not' && ['seen', 'found', 'there', 'present'].includes(text[at + 2] ?? ''))
    return at + 3 >= text.length;
  if (negativeAnswers.has(after) && at + 2 >= text.length) return true;
  return at === text.length - 1 && answer !== undefined && negativeAnswers.has(answer[0] ?? '') && answer.length < 3;
}
