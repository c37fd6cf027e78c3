import { foldAccents } from './normalize-text.js';

/** Recognises short answers in free text, in English or French: blank, none, clear, warmed. The French is from memory. */

/** Whether the field was left blank. A single dash counts as blank, as on paper. */
export const isBlank = (text: string): boolean => /^[\s\-–—?.]*$/u.test(text);

/** Whether the answer is none, or blank. */
export const isNone = (text: string): boolean => isBlank(text) || noneWords.test(text.trim());

/** Whether the text records no off flavour and nothing else: `none, WE tasted it`, `rich`. Blank (not tasted) counts as none. */
export const isNoOffFlavour = (text: string): boolean =>
  isNone(text) || isNothingElse(foldAccents(withoutInitials(text)).replace(noFault, ' ').replace(cleanTasteWords, ' '));

/** Whether the text records clear syrup and nothing else: `clear`, `bright, no sediment`; not `hazy`, `a little sediment`. */
export const isClear = (text: string): boolean =>
  isNothingElse(foldAccents(withoutInitials(text)).replace(noSediment, ' ').replace(clearWords, ' '));

const isNothingElse = (left: string): boolean => /^[\s,;.:&!()'’+/-]*$/u.test(left);
/** Removes the taster's initials: `clear, OE`, `none (by WE)`. */
const withoutInitials = (text: string): string => text.replace(/(?:\bby |[,(]\s*)[A-Z]{2,3}\b/gu, ' ');

/** Whether clarity was not checked: blank, `n/a`, `not checked`. */
export const isNotChecked = (text: string): boolean =>
  isBlank(text) || /^(?:n\/?a|not (?:looked|checked|seen))$/iu.test(text.trim());

/** Whether jars were warmed: `boiled 10 min`, `oven 225 F`; not `not preheated` or `unheated`. */
export const isWarmed = (text: string): boolean => warmWords.test(foldAccents(text).replace(notWarmed, ' '));

/** Whether jars were taken off sale: kept cold and used, packed again, poured back, destroyed. Sold or given away is not. */
export function isOffSale(text: string): boolean {
  const remaining = foldAccents(text).replace(notDone, ' ');
  return offSalePattern.test(remaining) && !soldWords.test(remaining);
}

/** Whether jars were packed, filled or sealed again, so that they may be sold. */
export const isPackedAgain = (text: string): boolean =>
  /\b(?:re-?(?:heated|pack\w*|fill\w*|process\w*|boil\w*|seal\w*|jar\w*)|(?:packed|filled|sealed|jarred|boiled|heated) again|rechauff\w*|remis\w* en pot|rempli\w*|refaits?|refaites?)\b/u.test(
    foldAccents(text).replace(notDone, ' '),
  );

const noneWords =
  /^(?:none|no|nil|nothing|n\/?a|0|false|non|aucune?|rien|not used|unused|(?:did not|didn['’]t) use (?:any|one)|(?:pas|non) utilisée?|(?:no|none|nothing)[ -](?:off[ -]?)?(?:flavou?rs?|found|noticed|tasted|used|known|needed|necessary|at all|today|this time|was used|were used)|(?:no|without(?: any)?|sans|pas d[e’'] ?|aucun) ?(?:defoamer|anti-?mousse|antimoussant|agent anti-?mousse)s?)$/iu;
const faultWord =
  '(?:off|odd|strange|flavou?rs?|tastes?|defauts?|gouts?|signaler|defects?|faults?|wrong|problems?|noticed|found|detected|tasted|noted|seen|remarque|speciale?s?|particuliers?)';
/** Descriptions of a jar without fault, from memory. */
const noFault = new RegExp(
  String.raw`\b(?:(?:none|ras|rien)(?: a)?(?:[ -]${faultWord})*|(?:no|nothing|any|not any|aucune?s?|pas d[e’']|sans)(?: (?:mauvaise?|bad|unusual|de))*(?:[ -]${faultWord})+)\b`,
  'gu',
);
const cleanTasteWords =
  /\b(?:tastes?|tasted|tasting|taste|flavou?rs?|gout|saveur|clean|good|great|fine|ok|okay|normal|absent|typical|as it should|as usual|usual|delicious|super|pleasant|balanced|agreable|equilibre|excellent|perfect|lovely|nice|wonderful|pure|true|classic|full|maple|mapley|sweet|rich|robust|delicate|strong|mild|light|smooth|very|really|so|and|the|is|it|was|all|by|today|before|packing|both|of|us|not (?:yet )?tasted|(?:pas|non) goute|bon|bonne|tres|parfait|excellente?|riche|delicat|robuste|prononce|normale?|typique|erable|d|l|et|correcte?|rien a signaler)\b/gu;

const notDone = /\b(?:not|never|no|pas|jamais|non|isn['’]?t|wasn['’]?t|weren['’]?t)[ -]+(?:yet[ -]+|be[ -]+)?\w+/gu;
const offSalePattern =
  /\b(?:refrigerat\w*|fridge\w*|frig\w*|cold|used|eaten|ate|house|home|kitchen|family|own use|re-?heated|re-?pack\w*|re-?fill\w*|re-?process\w*|re-?boil\w*|re-?seal\w*|re-?jar\w*|re-?pour\w*|(?:packed|filled|sealed|jarred|boiled|heated) again|poured (?:back|out|away)|back (?:in|into|to) (?:the )?(?:pan|kettle|pot|filler)|frozen|freezer|(?:for|by) (?:us|ourselves|our own)|breakfast table|(?:to|for) the (?:pigs?|hogs?|chickens?|animals)|congel\w*|(?:pour|par) nous|refaits?|refaites?|aux (?:cochons|poules)|destroy\w*|discard\w*|thrown|dumped|compost\w*|toss\w*|binned|set aside|kept apart|pulled|mange\w*|consomm\w*|utilis\w*|maison|rechauff\w*|revers\w*|remis\w*|rempli\w*|jete\w*|detruit\w*|mis\w* de cote)\b/u;
const soldWords =
  /\b(?:sold|sell|sale|selling|gave|given|gift\w*|ship\w*|market|customer\w*|delivered|sent|vend\w*|vente|donne\w*|donat\w*|church|supper|potluck|fair|fundrais\w*|raffle\w*|pantry|traded|trading|swap\w*|barter\w*|neighbo\w*|voisin\w*|staff|crew|friends?|visitors?|guests?|helpers?|employe\w*|amis?|served|offert\w*|cadeau\w*|livre\w*|client\w*|marche)\b/u;

const noSediment =
  /\b(?:not (?:at all )?(?:cloudy|hazy|turbid)|(?:no|without|free (?:of|from)) (?:any )?(?:visible )?(?:sediment|haze|haziness|cloud|cloudiness|sugar sand|sand|niter|nitre|specks|particles|bits)|(?:sediment|haze|cloud|niter|sand)[ -]free|(?:sans|pas de|aucune?) (?:depots?|sediments?|particules?|trouble|nuage))\b/gu;
const clearWords =
  /\b(?:clear(?:ed)?(?: as a (?:bell|whistle)| as (?:glass|crystal|water|gin))?|clean|clair|claire|limpide|brillante?|tres|et|bien|belle?|beautiful|lovely|nice|great|fine|excellent|perfect|gorgeous|looks?|looking|bright|brilliant|crystal|sparkling|limpid|transparente?|see[ -]through|translucent|very|perfectly|quite|really|and|the|is|it|all|ok|okay|good|yes|(?:golden|amber|dark|dore|ambre|fonce)(?: colou?r)?|(?:after|once|when) (?:filter(?:ed|ing)|settl(?:ed|ing)|rest(?:ed|ing))|overnight|twice|through the filter)\b/gu;

const warm = String.raw`(?:(?:pre|re)?-?(?:heat|warm)(?:ed|ing)?|boil\w*|hot|oven\w*|steril\w*|scald\w*|steam\w*|dish-?washe?\w*|bouilli\w*|(?:pre)?-?chauff\w*|chaud\w*|au four|ebouillant\w*)`;
const warmWords = new RegExp(String.raw`\b${warm}\b`, 'u');
/** Negated by a word up to three words before it (`not yet heated`), or by a prefix (`unheated`). */
const notWarmed = new RegExp(
  String.raw`\b(?:(?:not|never|no|without|nor|neither|pas|non|sans|\w+n['’]t)[ -]+(?:\w+[ -]+){0,2}${warm}|(?:un|non-?)(?:pre)?-?(?:heated|warmed|boiled|sterili[sz]ed|scalded|steamed))\b`,
  'gu',
);
