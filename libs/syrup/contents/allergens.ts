import { wordsOnly } from '../free-text/normalize-text.js';
import { isBlank, isNone } from '../free-text/short-answers.js';

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

/** A word for an allergen found in a name or an answer. */
export interface NamedAllergen {
  readonly word: string;
  /** The allergens it may mean: several where the word is ambiguous, such as margarine (milk or soy). */
  readonly anyOf: readonly [AllergenId, ...AllergenId[]];
}

/** Finds the allergens named in a text, in English or French. Negated ones (`dairy-free`, `sans lait`) are left out. */
export function findAllergens(text: string): NamedAllergen[] {
  const label = withoutFalseMatches(wordsOnly(text));
  return patterns.flatMap(([anyOf, pattern]) => {
    const found = pattern.exec(label)?.[0];
    return found === undefined ? [] : [{ word: found, anyOf }];
  });
}

export interface AllergenAnswer {
  /** False where it is blank or unsure: `see label`. */
  readonly answered: boolean;
  /** The allergens as typed, each once; empty where the answer was none. */
  readonly named: readonly string[];
}

/** Parses answers to what allergens something has: blank, none, or names. `not sure` and `none I think` count as no answer. */
export function parseAllergenAnswer(...typed: readonly string[]): AllergenAnswer {
  const parts = typed.flatMap((each) => each.split(/[;,|]|\band\b|\bet\b/u)).map((part) => part.trim());
  const answers = parts.filter((part) => !isBlank(part) && !isUnsure(part));
  const named = answers.filter((part) => !isAnsweredNone(part) && withoutFalseMatches(wordsOnly(part)).trim() !== '');
  const once = new Map(named.map((part) => [part.toLowerCase(), part]));
  return { answered: answers.length > 0 && !parts.some(isUnsure), named: [...once.values()] };
}

/** Whether a name is only “homemade” or the like, so that it names no ingredient. */
export const isHomemade = (name: string): boolean =>
  /\b(?:home ?made|house ?made|own (?:mix|blend|recipe)|fait(?:e)? maison|maison)\b/u.test(wordsOnly(name)) &&
  wordsOnly(name)
    .replace(
      /\b(?:home ?made|house ?made|own|mix|blend|recipe|fait(?:e)?|maison|defoamer|anti ?(?:mousse|foam)|drops?|liquid|oil|stick|spray|powder|stuff|mixture|agent|bottle|jar|gouttes?|liquide|huile|poudre|produit|the|our|my|his|her|a|of|de|la|du)\b/gu,
      ' ',
    )
    .trim() === '';

/** Whether a part of an answer means none: `none per label`, `contains no allergens`, `sans allergène`. */
const isAnsweredNone = (part: string): boolean =>
  isNone(part) ||
  (/^(?:none|no|nothing|nil|aucune?|rien|sans|pas|contains? (?:none|no|nothing)|(?:label|bottle|etiquette)(?: says| dit)? (?:none|no|aucune?))\b|\ballergen(?:e?s)? free\b|\bfree of\b/u.test(
    wordsOnly(part),
  ) &&
    findAllergens(part).length === 0);

const isUnsure = (answer: string): boolean =>
  /\b(?:unknown|not (?:known|sure|answered|checked|yet)|unsure|don t know|no idea|maybe|perhaps|probabl[ye]|possibly|i think|i guess|i hope|i know|que je sache|ma connaissance|see|read|look at|check(?: the| it|ing)?|ask\w*|to be|tbd|later|pending|on the (?:label|bottle|jug)|inconnue?s?|pas s[u]re?|sais pas|peut etre|probablement|je crois|voir|lire|verifier|demander|a venir|plus tard)\b/u.test(
    wordsOnly(answer),
  );

/** Removes negated allergens, and words that only look like one: `coconut butter`, `nutmeg`. */
const withoutFalseMatches = (text: string): string => text.replace(falseMatches, ' ').replace(negatedAllergens, ' ');

const stem = String.raw`(?:milk|dairy|lait|egg|oeuf|nut|noix|peanut|arachide|soy|soja|wheat|ble|gluten|sesame|lactose|butter|beurre|fish|allergen)e?s?`;
const negatedAllergens = new RegExp(
  String.raw`\b(?:(?:vegan|plant|non dairy|dairy free|vegetal) (?:butter|beurre|margarine)|(?:beurre|margarine) vegetale?|(?:no|non|not|without|free (?:of|from)|sans|pas de|aucune?)(?: any)? ${stem}(?: (?:or|nor|ni|ou|and|et) ${stem})*|${stem} free)\b`,
  'gu',
);
const falseMatches =
  /\b(?:(?:cocoa|cacao|shea|karite|coco|coconut) (?:butter|milk|cream)|(?:beurre|lait|creme) de (?:cacao|karite|coco)|noix de (?:coco|muscade)|nutmeg|coconuts?|butternut|doughnuts?|milkweed|(?:sunflower|canola|rapeseed) lecithin|lecithine de (?:tournesol|colza|canola)|cream of tartar|creme de tartre)\b/gu;

const patterns: readonly (readonly [NamedAllergen['anyOf'], RegExp])[] = [
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
