import {
  otherKnownWords,
  orderWords,
  faultWords,
  goodComparisons,
  appearanceWords,
  neutralWords,
  praiseWords,
} from './harmless-word-lists.js';
import {
  questionToSugarhouse,
  keepingWords,
  unclearEmoji,
  harmlessPhrases,
  suspectPhrases,
} from './harmless-phrases.js';
import { harmlessOnlyWith } from './harmless-word-pairs.js';
import { normalizeText, wordSet } from './normalize-text.js';
import { negatesSpoilage, findSpoilage } from './find-spoilage.js';
import { findHarm } from './find-harm.js';

/**
 * Whether a text about a jar is only praise, or about an order, a price, a delivery, a label or a container. Every word
 * has to be known and every clause harmless, since no list of bad words is ever complete: people write “lid came up by
 * itself” and “sirop sur”. Linear in the number of words, up to 1,000 characters.
 */
export function isClearlyHarmless(text: string): boolean {
  if (text.length > maxHarmlessLength || unclearEmoji.test(text)) return false;
  const clauses = text.split(clauseEnds).filter((clause) => /[\p{L}\p{N}]/u.test(clause) && !isInitials(clause, text));
  const kinds = clauses.map(kindOf);
  return kinds.length > 0 && !kinds.includes('unknown');
}

/** Initials such as `OE`, in a text that isn’t all capitals. */
const isInitials = (clause: string, text: string): boolean => /^\s*\p{Lu}{2}\s*$/u.test(clause) && /\p{Ll}/u.test(text);

/** Characters. Longer texts are never taken as harmless; each clause is searched several times. */
const maxHarmlessLength = 1000;

/**
 * The text, where it has to be asked about: a clause is neither harmless nor found as spoilage or harm, which raise
 * questions of their own. Undefined otherwise.
 */
export function findUnclearText(text: string): string | undefined {
  if (/^[\s\p{P}]*$/u.test(text) || isClearlyHarmless(text)) return undefined;
  if (text.split(clauseEnds).some((clause) => findSpoilage(clause).length + findHarm(clause).length > 0)) {
    const rest = text.split(clauseEnds).filter((clause) => findSpoilage(clause).length + findHarm(clause).length === 0);
    if (!rest.some((clause) => kindOf(clause) === 'unknown')) return undefined;
  }
  return text;
}

type ClauseKind = 'harmless' | 'neutral' | 'unknown';

const clauseEnds =
  /(?<!\d)[.,](?!\d)|[.,](?!\d)|(?<!\d)[.,]|[;:!?()"“”«»\n]|\s[-–—]+\s|\b(?:but|though|although|however|except|apart from|aside from|besides|shame|mais|a part|à part|hormis|sauf|dommage)\b/iu;

/** French elision joins two words: `l’an`, `d’érable`, `qu’il`. */
const elision = /(?<!\p{L})([ldjnsctm]|qu)['’](?=[aeiouyhâàéèêîôûœ])/giu;

function kindOf(clause: string): ClauseKind {
  const written = clause.replace(elision, '$1 ').match(/[\p{L}\p{N}'’]+/gu) ?? [];
  const words = written.map((word) => normalizeText(word));
  if (words.length === 0) return 'neutral';
  const isSpoilageNegated = negatesSpoilage(clause);
  if (suspectPhrases.test(words.join(' '))) return 'unknown';
  if (partsOf(words).every(isNotAboutJar)) return 'harmless';
  if (words.some((_, at) => !isKnown(written, words, at, isSpoilageNegated))) return 'unknown';
  const corrected = words.map(intendedWord);
  const isNegative = words.some((word) => negations.has(word));
  const plain = words.join(' ');
  if (isSpoilageNegated || harmlessPhrases.some((saying) => saying.test(plain))) return 'harmless';
  if (corrected.some((word) => orderWords.has(word) || appearanceWords.has(word)))
    return isNegative && keepingWords.test(words.join(' ')) ? 'unknown' : 'harmless';
  if (isNegative) return negatesFault(words) ? 'harmless' : 'unknown';
  if (words.some((word, at) => isPraise(words, word, at))) return 'harmless';
  return words.some((word) => stateVerbs.has(word) || sensoryWords.has(word)) ? 'unknown' : 'neutral';
}

/**
 * Whether a part of a clause is praise, an order or a question to the sugarhouse without a word about a jar, so that
 * unknown words are harmless in it: “do you take credit cards”.
 */
const isNotAboutJar = (words: readonly string[]): boolean => {
  if (words.some((word) => findSpoilage(word).length + findHarm(word).length > 0)) return false;
  if (words.some((word) => orderAndDeliveryWords.has(word))) return !words.some((word) => jarWords.has(word));
  const mentionsErrand =
    words.some((word, at) => orderWords.has(word) || isPraise(words, word, at) || secondPersonWords.has(word)) ||
    questionToSugarhouse.test(words.join(' '));
  return (
    mentionsErrand && !words.some((word) => jarWords.has(word) || placeAndChangeWords.has(word) || negations.has(word))
  );
};
const secondPersonWords = wordSet('you your yours vous votre vos');
const orderAndDeliveryWords = wordSet(
  'order orders ordered price prices pricing shipping shipped tracking parcel package delivery delivered courier postman invoice bill receipt refund website label labels barcode qr hours directions commande commandes prix livraison colis facture etiquette etiquettes adresse facteur poste horaire',
);
/** Words about a jar and its syrup as seen, smelt or tasted, and about illness. */
const jarWords = wordSet(
  [
    'jar jars can cans jug jugs glass foil syrup lid lids cap caps seal seals sealed unsealed top bottom surface layer edge rim neck inside under underneath with ring full half empty',
    'leak leaked leaks leaking drip drips dripping sticky wet soaked broken broke cracked crack chipped burst pieces smell smells smelled smelt smelling taste tastes tasted tasting texture something stuff bits piece',
    'eat eaten ate touch throw threw thrown bin trash sink dump doctor clinic hospital toilet bathroom sick ill hurt pain bed urgent inspector health worried safe',
    'pot pots bocal sirop dessus dedans sous autour couvercle verre joint plein avec vide moitie coule odeur gout goute sent ouvert ouverte malade mal jete poubelle medecin boire manger chose',
  ].join(' '),
);
/** Words for where something is, and for change. */
const placeAndChangeWords = wordSet(
  [
    'in on into beneath around between through with without part less side closed open opened opens opening loose tight it its that this these those they anything thing things bit look looks looked looking seems seemed feel feels felt',
    'there found find finds see saw until till since now lately anymore before after first last then again still next another other second third change changed changes turned went gone became old different weird strange odd hard soft sharp thin off up out worry sure ok night',
    'dans sur avec sans ferme ca cela cest il elle ils elles y quelque semble air trouve vu depuis avant apres encore plus change devenu rendu vieux vieille dur mou normal',
  ].join(' '),
);

/** The parts of a clause that “and” joins. */
const partsOf = (words: readonly string[]): readonly (readonly string[])[] =>
  words
    .reduce<string[][]>(
      (parts, word) =>
        word === 'and' || word === 'et' ? [...parts, []] : [...parts.slice(0, -1), [...(parts.at(-1) ?? []), word]],
      [[]],
    )
    .filter((part) => part.length > 0);

/** The part that contains the word at this index. */
const partAt = (words: readonly string[], at: number): readonly string[] => {
  const from = words.lastIndexOf('and', at) + 1 || words.lastIndexOf('et', at) + 1;
  const until = words.findIndex((word, n) => n > at && (word === 'and' || word === 'et'));
  return words.slice(from, until < 0 ? undefined : until);
};

function isKnown(
  written: readonly string[],
  words: readonly string[],
  at: number,
  isSpoilageNegated: boolean,
): boolean {
  const [before, word, next] = [words[at - 1] ?? '', words[at] ?? '', words[at + 1] ?? ''];
  const asWritten = written[at] ?? '';
  if (/^\p{N}/u.test(word)) return true;
  // Initials: `OE tasted it`. In a text of capitals alone any word would be.
  if (/^\p{Lu}{2}$/u.test(asWritten) && written.some((each) => /\p{Ll}/u.test(each))) return true;
  if (word === 'sur') return next !== '' && isListed(next) && !notBeforeSur.has(before);
  if (comparingWords.has(word) && !subjectsOfLike.has(before)) return isGoodComparison(words, at);
  if (['of', 'de'].includes(word) && tasteAndSmellWords.has(before)) return isGoodComparison(words, at);
  if (word === 'better')
    return ['than', 'no', 'never', 'nothing', 'even', 'get', 'gets', 'any', 'not', 'be'].some((each) =>
      words.includes(each),
    );
  if (word === 'used' && next === 'to') return words[at + 2] !== 'be' && words[at + 2] !== 'have';
  if (isSpoilageNegated && findSpoilage(word).length > 0) return true;
  const beside = harmlessOnlyWith.get(word);
  if (beside)
    return partAt(words, at).some((each, n, part) =>
      each !== word || part.indexOf(word) !== n ? beside.has(each) : false,
    );
  if (isListed(intendedWord(word))) return true;
  if (faultWords.has(word)) return words.some((each) => negations.has(each));
  if (wordsBeforeNames.has(before) && /^\p{Lu}\p{Ll}+$/u.test(asWritten)) return true;
  return false;
}

const isListed = (word: string): boolean =>
  neutralWords.has(word) ||
  praiseWords.has(word) ||
  orderWords.has(word) ||
  appearanceWords.has(word) ||
  otherKnownWords.has(word);

/** The listed word that a misspelt one means: `yummmmy`, `excelent`, `recieved`. Seven letters or more, same first letter. */
function intendedWord(word: string): string {
  if (isListed(word)) return word;
  const once = word.replace(/(\p{L})\1{2,}/gu, '$1');
  const twice = word.replace(/(\p{L})\1{2,}/gu, '$1$1');
  if (isListed(once)) return once;
  if (isListed(twice)) return twice;
  if (word.length < 7 || findSpoilage(word).length > 0) return word;
  return longWords.find((each) => each[0] === word[0] && isOneSlip(each, word)) ?? word;
}
const longWords = [...praiseWords, ...orderWords, ...appearanceWords, ...otherKnownWords].filter(
  (word) => word.length >= 7,
);

/** Whether the words differ by one letter more, fewer or different, or two swapped. */
function isOneSlip(intended: string, typed: string): boolean {
  if (Math.abs(intended.length - typed.length) > 1) return false;
  let at = 0;
  while (at < intended.length && intended[at] === typed[at]) at++;
  const [left, right] = [intended.slice(at), typed.slice(at)];
  return (
    left.slice(1) === right.slice(1) ||
    left === right.slice(1) ||
    left.slice(1) === right ||
    (left[0] === right[1] && left[1] === right[0] && left.slice(2) === right.slice(2))
  );
}

/** Whether the word is praise. `like` is praise after a person (“kids like it”) and a comparison before a thing. */
const isPraise = (words: readonly string[], word: string, at: number): boolean =>
  praiseWords.has(intendedWord(word)) && (!comparingWords.has(word) || subjectsOfLike.has(words[at - 1] ?? ''));

const isGoodComparison = (words: readonly string[], at: number): boolean =>
  words.slice(at + 1, at + 4).some((each) => goodComparisons.has(each));

const negatesFault = (words: readonly string[]): boolean => words.some((word) => faultWords.has(word));

const comparingWords = wordSet('like comme');
const subjectsOfLike = wordSet(
  'i we you they who kids children everyone everybody family really all would also both id just still guests customers people friends dont didnt not',
);
const tasteAndSmellWords = wordSet('taste tastes tasted tasting smell smells smelled gout odeur');
const notBeforeSur = wordSet('trop plus un peu tres tout devenu est goute goutait');
const wordsBeforeNames = wordSet('to from for in at near and mr mrs ms aunt uncle a pour chez de d');
const negations = wordSet(
  'no not never none nor neither without nothing nobody cant couldnt cannot dont didnt doesnt wont wouldnt isnt wasnt arent werent havent hasnt hadnt ne n nai nest na pas jamais rien aucun aucune sans ni',
);
/** A taste or smell without a word of praise. */
const sensoryWords = wordSet('taste tastes tasted tasting smell smells smelled scent texture odeur gout saveur');
const stateVerbs = wordSet(
  'is are was were be been got gets came comes went goes did does has had est sont etait etaient va a ont avait cest cetait its',
);
