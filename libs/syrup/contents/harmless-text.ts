import {
  besideThem,
  errandWords,
  faultsDenied,
  goodLikeness,
  lookWords,
  neutralWords,
  praiseWords,
} from './harmless-words.js';
import { housesQuestion, keeping, oddSymbol, sayings, suspect } from './harmless-sayings.js';
import { onlyWith } from './harmless-pairs.js';
import { plainText, wordSet } from './plain-words.js';
import { deniesSpoilage, spoilageIn } from './spoilage-words.js';
import { harmIn } from './harm-words.js';

/**
 * Whether a text about a jar says nothing that could be spoilage: plain praise, or an order, a price, a delivery, a
 * label, a container. Every word has to be known and every clause covered, since no list of bad words is ever complete:
 * people write “lid came up by itself” and “sirop sur”. One pass over the words, each looking along its clause.
 */
export function isPlainlyHarmless(text: string): boolean {
  if (text.length > longest || oddSymbol.test(text)) return false;
  const clauses = text.split(clauseEnds).filter((clause) => /[\p{L}\p{N}]/u.test(clause) && !isInitials(clause, text));
  const kinds = clauses.map(kindOf);
  return kinds.length > 0 && !kinds.includes('unknown');
}

/** `OE`, in a text that isn’t all capitals. */
const isInitials = (clause: string, text: string): boolean => /^\s*\p{Lu}{2}\s*$/u.test(clause) && /\p{Ll}/u.test(text);

/** Praise is never longer than this; each clause is searched several times. */
const longest = 1000;

/**
 * The clauses to ask about: those neither harmless nor matched by the words of spoilage and harm, which raise their own
 * question.
 */
export function unclearIn(text: string): string | undefined {
  if (/^[\s\p{P}]*$/u.test(text) || isPlainlyHarmless(text)) return undefined;
  if (text.split(clauseEnds).some((clause) => spoilageIn(clause).length + harmIn(clause).length > 0)) {
    const rest = text.split(clauseEnds).filter((clause) => spoilageIn(clause).length + harmIn(clause).length === 0);
    if (!rest.some((clause) => kindOf(clause) === 'unknown')) return undefined;
  }
  return text;
}

type ClauseKind = 'harmless' | 'neutral' | 'unknown';

const clauseEnds =
  /(?<!\d)[.,](?!\d)|[.,](?!\d)|(?<!\d)[.,]|[;:!?()"“”«»\n]|\s[-–—]+\s|\b(?:but|though|although|however|except|apart from|aside from|besides|shame|mais|a part|à part|hormis|sauf|dommage)\b/iu;

/** `l’an` is two words, as are `d’érable` and `qu’il`. */
const elision = /(?<!\p{L})([ldjnsctm]|qu)['’](?=[aeiouyhâàéèêîôûœ])/giu;

function kindOf(clause: string): ClauseKind {
  const written = clause.replace(elision, '$1 ').match(/[\p{L}\p{N}'’]+/gu) ?? [];
  const words = written.map((word) => plainText(word));
  if (words.length === 0) return 'neutral';
  const denied = deniesSpoilage(clause);
  if (suspect.test(words.join(' '))) return 'unknown';
  if (partsIn(words).every(isAwayFromJar)) return 'harmless';
  if (words.some((_, at) => !isKnown(written, words, at, denied))) return 'unknown';
  const corrected = words.map(intendedWord);
  const negated = words.some((word) => denials.has(word));
  const plain = words.join(' ');
  if (denied || sayings.some((saying) => saying.test(plain))) return 'harmless';
  if (corrected.some((word) => errandWords.has(word) || lookWords.has(word)))
    return negated && keeping.test(words.join(' ')) ? 'unknown' : 'harmless';
  if (negated) return deniesFault(words) ? 'harmless' : 'unknown';
  if (words.some((word, at) => isPraise(words, word, at))) return 'harmless';
  return words.some((word) => states.has(word) || senses.has(word)) ? 'unknown' : 'neutral';
}

/**
 * With praise, an order or a question to the sugarhouse, and no word about inspecting a jar, unknown words are allowed:
 * “do you take credit cards”. What has changed, or is in, on or under something, is checked word by word.
 */
const isAwayFromJar = (words: readonly string[]): boolean => {
  if (words.some((word) => spoilageIn(word).length + harmIn(word).length > 0)) return false;
  if (words.some((word) => farErrands.has(word))) return !words.some((word) => ofJar.has(word));
  const mentionsErrand =
    words.some((word, at) => errandWords.has(word) || isPraise(words, word, at) || toHouse.has(word)) ||
    housesQuestion.test(words.join(' '));
  return mentionsErrand && !words.some((word) => ofJar.has(word) || whereLooked.has(word) || denials.has(word));
};
const toHouse = wordSet('you your yours vous votre vos');
const farErrands = wordSet(
  'order orders ordered price prices pricing shipping shipped tracking parcel package delivery delivered courier postman invoice bill receipt refund website label labels barcode qr hours directions commande commandes prix livraison colis facture etiquette etiquettes adresse facteur poste horaire',
);
/** Words about a jar and its syrup, seen, smelt or tasted; and about somebody who was ill. */
const ofJar = wordSet(
  [
    'jar jars can cans jug jugs glass foil syrup lid lids cap caps seal seals sealed unsealed top bottom surface layer edge rim neck inside under underneath with ring full half empty',
    'leak leaked leaks leaking drip drips dripping sticky wet soaked broken broke cracked crack chipped burst pieces smell smells smelled smelt smelling taste tastes tasted tasting texture something stuff bits piece',
    'eat eaten ate touch throw threw thrown bin trash sink dump doctor clinic hospital toilet bathroom sick ill hurt pain bed urgent inspector health worried safe',
    'pot pots bocal sirop dessus dedans sous autour couvercle verre joint plein avec vide moitie coule odeur gout goute sent ouvert ouverte malade mal jete poubelle medecin boire manger chose',
  ].join(' '),
);
/** Words about where something is, or that it has changed. */
const whereLooked = wordSet(
  [
    'in on into beneath around between through with without part less side closed open opened opens opening loose tight it its that this these those they anything thing things bit look looks looked looking seems seemed feel feels felt',
    'there found find finds see saw until till since now lately anymore before after first last then again still next another other second third change changed changes turned went gone became old different weird strange odd hard soft sharp thin off up out worry sure ok night',
    'dans sur avec sans ferme ca cela cest il elle ils elles y quelque semble air trouve vu depuis avant apres encore plus change devenu rendu vieux vieille dur mou normal',
  ].join(' '),
);

/** The parts that “and” joins. */
const partsIn = (words: readonly string[]): readonly (readonly string[])[] =>
  words
    .reduce<string[][]>(
      (parts, word) =>
        word === 'and' || word === 'et' ? [...parts, []] : [...parts.slice(0, -1), [...(parts.at(-1) ?? []), word]],
      [[]],
    )
    .filter((part) => part.length > 0);

/** The part that contains a word. */
const partAt = (words: readonly string[], at: number): readonly string[] => {
  const from = words.lastIndexOf('and', at) + 1 || words.lastIndexOf('et', at) + 1;
  const until = words.findIndex((word, n) => n > at && (word === 'and' || word === 'et'));
  return words.slice(from, until < 0 ? undefined : until);
};

function isKnown(written: readonly string[], words: readonly string[], at: number, denied: boolean): boolean {
  const [before, word, next] = [words[at - 1] ?? '', words[at] ?? '', words[at + 1] ?? ''];
  const asWritten = written[at] ?? '';
  if (/^\p{N}/u.test(word)) return true;
  // Initials: `OE tasted it`. In a text of capitals alone any word would be.
  if (/^\p{Lu}{2}$/u.test(asWritten) && written.some((each) => /\p{Ll}/u.test(each))) return true;
  if (word === 'sur') return next !== '' && isListed(next) && !trop.has(before);
  if (likening.has(word) && !likers.has(before)) return isGoodLikeness(words, at);
  if (['of', 'de'].includes(word) && savours.has(before)) return isGoodLikeness(words, at);
  if (word === 'better')
    return ['than', 'no', 'never', 'nothing', 'even', 'get', 'gets', 'any', 'not', 'be'].some((each) =>
      words.includes(each),
    );
  if (word === 'used' && next === 'to') return words[at + 2] !== 'be' && words[at + 2] !== 'have';
  if (denied && spoilageIn(word).length > 0) return true;
  const beside = onlyWith.get(word);
  if (beside)
    return partAt(words, at).some((each, n, part) =>
      each !== word || part.indexOf(word) !== n ? beside.has(each) : false,
    );
  if (isListed(intendedWord(word))) return true;
  if (faultsDenied.has(word)) return words.some((each) => denials.has(each));
  if (names.has(before) && /^\p{Lu}\p{Ll}+$/u.test(asWritten)) return true;
  return false;
}

const isListed = (word: string): boolean =>
  neutralWords.has(word) ||
  praiseWords.has(word) ||
  errandWords.has(word) ||
  lookWords.has(word) ||
  besideThem.has(word);

/** The intended word: `yummmmy`, `excelent`, `recieved`. Only long words with the same first letter. */
function intendedWord(word: string): string {
  if (isListed(word)) return word;
  const once = word.replace(/(\p{L})\1{2,}/gu, '$1');
  const twice = word.replace(/(\p{L})\1{2,}/gu, '$1$1');
  if (isListed(once)) return once;
  if (isListed(twice)) return twice;
  if (word.length < 7 || spoilageIn(word).length > 0) return word;
  return longWords.find((each) => each[0] === word[0] && isOneSlip(each, word)) ?? word;
}
const longWords = [...praiseWords, ...errandWords, ...lookWords, ...besideThem].filter((word) => word.length >= 7);

/** One letter more, fewer or different, or two swapped. */
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

/** `like` and `aime` after a person are praise; `like` before a thing compares. */
const isPraise = (words: readonly string[], word: string, at: number): boolean =>
  praiseWords.has(intendedWord(word)) && (!likening.has(word) || likers.has(words[at - 1] ?? ''));

const isGoodLikeness = (words: readonly string[], at: number): boolean =>
  words.slice(at + 1, at + 4).some((each) => goodLikeness.has(each));

const deniesFault = (words: readonly string[]): boolean => words.some((word) => faultsDenied.has(word));

const likening = wordSet('like comme');
const likers = wordSet(
  'i we you they who kids children everyone everybody family really all would also both id just still guests customers people friends dont didnt not',
);
const savours = wordSet('taste tastes tasted tasting smell smells smelled gout odeur');
const trop = wordSet('trop plus un peu tres tout devenu est goute goutait');
const names = wordSet('to from for in at near and mr mrs ms aunt uncle a pour chez de d');
const denials = wordSet(
  'no not never none nor neither without nothing nobody cant couldnt cannot dont didnt doesnt wont wouldnt isnt wasnt arent werent havent hasnt hadnt ne n nai nest na pas jamais rien aucun aucune sans ni',
);
/** A taste or smell without a word of praise. */
const senses = wordSet('taste tastes tasted tasting smell smells smelled scent texture odeur gout saveur');
const states = wordSet(
  'is are was were be been got gets came comes went goes did does has had est sont etait etaient va a ont avait cest cetait its',
);
