/** Reads free text, in English or French, as one of a few answers: blank, none, clear, warmed. */

/** Nothing was written. A single dash counts as blank, as on paper. */
export const isBlank = (text: string): boolean => /^[\s\-–—?.]*$/u.test(text);

/** None there, or nothing written of it. */
export const isNone = (text: string): boolean => isBlank(text) || noneWords.test(text.trim());

/** A flavour that is no off flavour; blank is not tasted. */
export const isNoOffFlavour = (text: string): boolean => isNone(text) || cleanTasteWords.test(text.trim());

/** Clear, in words that say nothing else: `clear`, `bright, no sediment`. Anything more (hazy, a little sediment) is not. */
export function isClear(text: string): boolean {
  const left = plain(text).replace(noSediment, ' ').replace(clearWords, ' ');
  return /^[\s,;.&]*$/u.test(left);
}

/** Clarity was not looked at. */
export const isNotLooked = (text: string): boolean =>
  isBlank(text) || /^(?:n\/?a|not (?:looked|checked|seen))$/iu.test(text.trim());

/**
 * The text says that jars were warmed: `boiled 10 min`, `oven 225 F`; `not preheated` and `unheated` say they were not.
 */
export const isWarmed = (text: string): boolean => warmWords.test(plain(text).replace(notWarmed, ' '));

/**
 * What became of a jar takes it off sale: kept cold and used, packed again, poured back, destroyed. Sold, given or
 * shipped is no such thing, and a text that says neither doesn't count.
 */
export function isOffSale(text: string): boolean {
  const formatted = plain(text).replace(notDone, ' ');
  return offSalePattern.test(formatted) && !soldWords.test(formatted);
}

/** Packed, filled or sealed again: the jars are jars again. */
export const isPackedAgain = (text: string): boolean =>
  /\b(?:re-?(?:heated|pack\w*|fill\w*|process\w*|boil\w*|seal\w*|jar\w*)|(?:packed|filled|sealed|jarred|boiled|heated) again|rechauff\w*|remis\w* en pot|rempli\w*)\b/u.test(
    plain(text).replace(notDone, ' '),
  );

/** Lower case, accents off: `Préchauffés` → `prechauffes`. */
const plain = (text: string): string => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();

const noneWords =
  /^(?:none|no|nil|nothing|n\/?a|0|false|non|aucune?|rien|not used|unused|(?:did not|didn['’]t) use (?:any|one)|(?:pas|non) utilisée?|(?:no|none|nothing)[ -](?:off[ -]?)?(?:flavou?rs?|found|noticed|tasted|used|known))$/iu;
const cleanTasteWords =
  /^(?:no off[ -]?flavou?rs?(?: (?:found|noticed|tasted))?|clean|good|fine|ok|okay|normal|absent|typical)$/iu;

const notDone = /\b(?:not|never|no|pas|jamais|non|isn['’]?t|wasn['’]?t|weren['’]?t)[ -]+(?:yet[ -]+|be[ -]+)?\w+/gu;
const offSalePattern =
  /\b(?:refrigerat\w*|fridge\w*|frig\w*|cold|used|eaten|ate|house|home|kitchen|family|own use|re-?heated|re-?pack\w*|re-?fill\w*|re-?process\w*|re-?boil\w*|re-?seal\w*|re-?jar\w*|(?:packed|filled|sealed|jarred|boiled|heated) again|poured back|back (?:in|into|to) the (?:pan|kettle|pot|filler)|destroy\w*|discard\w*|thrown|dumped|compost\w*|toss\w*|binned|set aside|kept apart|pulled|mange\w*|consomm\w*|utilis\w*|maison|rechauff\w*|revers\w*|remis\w*|rempli\w*|jete\w*|detruit\w*|mis\w* de cote)\b/u;
const soldWords =
  /\b(?:sold|sell|sale|selling|gave|given|gift\w*|ship\w*|market|customer\w*|delivered|sent|vend\w*|vente|donne\w*|donat\w*|church|supper|potluck|fair|fundrais\w*|raffle\w*|pantry|traded|trading|swap\w*|barter\w*|neighbo\w*|voisin\w*|served|offert\w*|cadeau\w*|livre\w*|client\w*|marche)\b/u;

const noSediment =
  /\b(?:not (?:at all )?(?:cloudy|hazy|turbid)|(?:no|without|free (?:of|from)) (?:any )?(?:sediment|haze|haziness|cloud|cloudiness|sugar sand|particles)|(?:sediment|haze|cloud)[ -]free)\b/gu;
const clearWords =
  /\b(?:clear|clair|claire|limpide|brillant|tres|et|bright|brilliant|crystal|sparkling|limpid|transparent|very|perfectly|quite|and|ok|good|yes)\b/gu;

const warm = String.raw`(?:(?:pre|re)?-?(?:heat|warm)(?:ed|ing)?|boil\w*|hot|oven\w*|steril\w*|scald\w*|steam\w*|dish-?washe?\w*|bouilli\w*|(?:pre)?-?chauff\w*|chaud\w*|au four|ebouillant\w*)`;
const warmWords = new RegExp(String.raw`\b${warm}\b`, 'u');
/** The word is negated within two words before it: `not yet heated`; or in itself: `unheated`. */
const notWarmed = new RegExp(
  String.raw`\b(?:(?:not|never|no|without|nor|neither|pas|non|sans|\w+n['’]t)[ -]+(?:\w+[ -]+){0,2}${warm}|(?:un|non-?)(?:pre)?-?(?:heated|warmed|boiled|sterili[sz]ed|scalded|steamed))\b`,
  'gu',
);
