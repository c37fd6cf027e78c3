import { isBlank, isNone } from '../quantities/plain-answers.js';

/**
 * Allergens that a place may require to be named: the nine of the US (Federal Food, Drug, and Cosmetic Act §403(w) and
 * the FASTER Act of 2021) and the further ones of Canada (Food and Drug Regulations B.01.010.1). All from memory.
 */
export const allergenIds = [
  'milk',
  'eggs',
  'fish',
  'crustaceans',
  'tree-nuts',
  'peanuts',
  'wheat',
  'soy',
  'sesame',
  'mustard',
  'sulphites',
  'gluten',
] as const;
export type AllergenId = (typeof allergenIds)[number];

/** The allergens that a word in a name or an answer may stand for; an answer has to cover each such word. */
export interface NamedAllergen {
  readonly word: string;
  /** Several where the word alone is ambiguous: margarine may contain milk or soy. */
  readonly any: readonly [AllergenId, ...AllergenId[]];
}

/** Allergens named in a text, in English and French. Denied ones (`dairy-free`, `sans lait`) are not returned. */
export function allergensIn(text: string): NamedAllergen[] {
  const label = allowed(plain(text));
  return patterns.flatMap(([any, pattern]) => {
    const found = pattern.exec(label)?.[0];
    return found === undefined ? [] : [{ word: found, any }];
  });
}

export interface AllergenAnswer {
  readonly answered: boolean;
  /** As typed, part by part; empty where the answer was none. */
  readonly named: readonly string[];
}

/** Parses an answer: nothing, none, or names. `not sure`, `see label` and `none I think` count as no answer. */
export function allergenAnswer(...typed: readonly string[]): AllergenAnswer {
  const parts = typed.flatMap((each) => each.split(/[;,|]|\band\b|\bet\b/u)).map((part) => part.trim());
  const answers = parts.filter((part) => !isBlank(part) && !isUnsure(part));
  const named = answers.filter((part) => !saysNone(part) && allowed(plain(part)).trim() !== '');
  const once = new Map(named.map((part) => [part.toLowerCase(), part]));
  return { answered: answers.length > 0 && !parts.some(isUnsure), named: [...once.values()] };
}

/** Home-made, so neither a bottle nor the name shows what is in it. */
export const isHomemade = (name: string): boolean =>
  /\b(?:home ?made|house ?made|own (?:mix|blend|recipe)|fait(?:e)? maison|maison)\b/u.test(plain(name)) &&
  plain(name)
    .replace(
      /\b(?:home ?made|house ?made|own|mix|blend|recipe|fait(?:e)?|maison|defoamer|anti ?(?:mousse|foam)|drops?|liquid|oil|stick|spray|powder|stuff|mixture|agent|bottle|jar|gouttes?|liquide|huile|poudre|produit|the|our|my|his|her|a|of|de|la|du)\b/gu,
      ' ',
    )
    .trim() === '';

/** `none per label`, `contains no allergens`, `sans allergène`: none in other words, with no allergen among them. */
const saysNone = (part: string): boolean =>
  isNone(part) ||
  (/^(?:none|no|nothing|nil|aucune?|rien|sans|pas|contains? (?:none|no|nothing)|(?:label|bottle|etiquette)(?: says| dit)? (?:none|no|aucune?))\b|\ballergen(?:e?s)? free\b|\bfree of\b/u.test(
    plain(part),
  ) &&
    allergensIn(part).length === 0);

const isUnsure = (answer: string): boolean =>
  /\b(?:unknown|not (?:known|sure|answered|checked|yet)|unsure|don t know|no idea|maybe|perhaps|probabl[ye]|possibly|i think|i guess|i hope|i know|que je sache|ma connaissance|see|read|look at|check(?: the| it|ing)?|ask\w*|to be|tbd|later|pending|on the (?:label|bottle|jug)|inconnue?s?|pas s[u]re?|sais pas|peut etre|probablement|je crois|voir|lire|verifier|demander|a venir|plus tard)\b/u.test(
    plain(answer),
  );

/** Removes denied allergens, and names that only sound like one. */
const allowed = (text: string): string => text.replace(soundsLike, ' ').replace(denied, ' ');

const stem = String.raw`(?:milk|dairy|lait|egg|oeuf|nut|noix|peanut|arachide|soy|soja|wheat|ble|gluten|sesame|lactose|butter|beurre|fish|allergen)e?s?`;
const denied = new RegExp(
  String.raw`\b(?:(?:vegan|plant|non dairy|dairy free|vegetal) (?:butter|beurre|margarine)|(?:beurre|margarine) vegetale?|(?:no|non|not|without|free (?:of|from)|sans|pas de|aucune?)(?: any)? ${stem}(?: (?:or|nor|ni|ou|and|et) ${stem})*|${stem} free)\b`,
  'gu',
);
const soundsLike =
  /\b(?:(?:cocoa|cacao|shea|karite|coco|coconut) (?:butter|milk|cream)|(?:beurre|lait|creme) de (?:cacao|karite|coco)|noix de (?:coco|muscade)|nutmeg|coconuts?|butternut|doughnuts?|milkweed|(?:sunflower|canola|rapeseed) lecithin|lecithine de (?:tournesol|colza|canola)|cream of tartar|creme de tartre)\b/gu;

const patterns: readonly (readonly [NamedAllergen['any'], RegExp])[] = [
  [['peanuts'], /\b(?:p[ea]+ ?nn?[ua]t{1,2}s?\w*|groundnuts?|arachides?|cacahuet\w*)\b/u],
  [
    ['milk'],
    /\b(?<!peanut |pea nut |almond |nut |cashew |arachide )(?:but{1,3}er\w*|beurre\w*|babeurre|cream\w*|creme\w*|milk\w*|lait\w*|dairy|whey|petit lait|lactos\w*|ghee|ghi|casein\w*|half (?:and |n )?half|whipp?(?:ed|ing) topping|cheese|fromage|curds?|yogh?o?urts?|kefir|yaourts?)\b(?! d (?:arachides?|amandes?))/u,
  ],
  [['milk', 'soy'], /\b(?:margarine?s?|oleo\w*|marg)\b/u],
  [['soy', 'eggs'], /\blecithine?s?\b/u],
  [['soy'], /\b(?:soya?|soja|soybeans?|tofu)\b/u],
  [
    ['tree-nuts'],
    /\b(?:nuts?|tree nuts?|noix|noisettes?|walnuts?|almonds?|amandes?|hazelnuts?|cashews?|cajou|pecans?|pacanes?|pistachios?|pistaches?|macadamias?|pignons?|filberts?|cerneaux|avelines?|brazil nuts?)\b/u,
  ],
  [['eggs'], /\b(?:eggs?|oeufs?|albumen|mayo|mayonnaise)\b/u],
  [['fish'], /\b(?:fish|poissons?)\b/u],
  [['crustaceans'], /\b(?:shellfish|crustaceans?|crustaces?|molluscs?|mollusques?|shrimps?|crab)\b/u],
  [['wheat'], /\b(?:wheat|ble|triticale|froment)\b/u],
  [['gluten'], /\b(?:gluten|barley|rye|oats?|orge|seigle|avoine)\b/u],
  [['sesame'], /\b(?:sesame|tahini)\b/u],
  [['mustard'], /\b(?:mustard|moutarde)\b/u],
  [['sulphites'], /\b(?:sulph?ites?|sulfites?)\b/u],
];

/** Lower case, accents removed, punctuation as spaces: `Beurre d’érable` → `beurre d erable`. */
const plain = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/œ/giu, 'oe')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
