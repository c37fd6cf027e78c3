import { wordsOnly } from '../free-text/normalize-text.js';
import { isBlank } from '../free-text/short-answers.js';
import type { PlaceRules } from '../labelling/places.js';
import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';

/** Products that a pack may be. Only pure maple syrup, also meant by a blank field, is covered by the rules. */
export const products = [
  'maple-syrup',
  'infused',
  'flavoured',
  'barrel-aged',
  'cream',
  'butter',
  'candy',
  'sugar',
  'below-density',
  'other',
] as const;
export type OtherProduct = Exclude<(typeof products)[number], 'maple-syrup'>;

/**
 * Which product a text names; undefined for pure maple syrup or a blank. A text that names no product of the list and is
 * more than "pure maple syrup" with its grades and places is `other`: an unknown product is not judged as syrup.
 */
export function otherProductOf(typed: string): OtherProduct | undefined {
  if (isBlank(typed)) return undefined;
  const text = wordsOnly(typed);
  const named = productPatterns.find(([, pattern]) => pattern.test(text));
  if (named) return named[0];
  return syrupOrGrade.test(text) && text.replace(syrupWords, ' ').trim() === '' ? undefined : 'other';
}

/**
 * Finds an ingredient that a note says was added to the syrup: `vanilla` in `added two vanilla beans`. Neither a smell
 * or taste of it counts, nor a negation (`no sugar added`). English and French, from memory.
 */
export function findAddedIngredient(note: string): string | undefined {
  const words = wordsOnly(note)
    .replace(/\bsugar sand\b/gu, ' ')
    .split(' ');
  const at = words.findIndex((word, n) => {
    if (!ingredientWords.test(word)) return false;
    const around = words.slice(Math.max(0, n - 5), n + 4);
    return around.some((each) => addingVerbs.test(each)) && !around.some((each) => negationWords.test(each));
  });
  return words[at];
}
const addingVerbs =
  /^(?:add(?:ed|ing)?|infus\w*|steeped|flavou?red|spiced|mixed|stirred|splash|dash|aged|ajout\w*|additionn\w*|aromatis\w*|parfum\w*|vieilli\w*)$/u;
const ingredientWords =
  /^(?:vanil\w*|bourbons?|whisk\w*|rum|rhum|brandy|cinnamon|cannelle|ginger|gingembre|chil[il]i?e?s?|jalapenos?|habaneros?|peppers?|piments?|coffee|cafe|lavender|lavande|honey|miel|sugar|sucre|cocoa|cacao|cardamom\w*|cloves?|garlic|ail|berries|blueberr\w*|lemon|citron|orange|butter|beurre|walnuts?|pecans?|hazelnuts?)$/u;
const negationWords = /^(?:no|not|nothing|none|without|never|sans|pas|aucune?|rien|didn|wasn)$/u;

/** A pack’s product, and those of the packs that it was poured from: syrup from another product is that product too. */
export interface ProductFacts {
  /** As typed with the pack; blank is pure maple syrup. */
  readonly product: string;
  /** Packs that it was poured from, with their products. */
  readonly pouredFrom: readonly { readonly lot: string; readonly product: string }[];
  readonly place: Pick<PlaceRules, 'authority'>;
  /** The pack's note, free text. */
  readonly note?: string | undefined;
}

/**
 * A hold where the jar contains anything but pure maple syrup: these rules don't judge it, and an authority has to be
 * asked.
 */
export function judgeProduct({ product, pouredFrom, place, note = '' }: ProductFacts): Finding[] {
  const own = otherProductOf(product);
  const others = pouredFrom.filter((each) => otherProductOf(each.product) !== undefined);
  const [from] = others;
  const kind = own ?? (from && otherProductOf(from.product));
  const added = findAddedIngredient(note);
  if (kind === undefined && added !== undefined) return [additionInNote(product, note, added)];
  if (kind === undefined) return [];
  const name = own ? product.trim() : `poured from ${from?.lot}, which is ${from?.product.trim()}`;
  return [
    findingOf('outside-these-rules', {
      limit: 'pure maple syrup; for anything else these rules give no verdict and the book prints no syrup label',
      found: `product: ${name}. ${hazardSentences[kind]}`,
      wayOut: askAuthority(place),
      identity: {
        evidence: {
          kind,
          ...(own ? { product: product.trim() } : {}),
          pouredFrom: others.map((each) => ({ lot: each.lot, product: each.product.trim() })),
        },
      },
    }),
  ];
}

/** The finding after somebody answered that an ingredient named in the note was put into the syrup. */
export const confirmedAddition = (
  { found, note, words }: { readonly found: string; readonly note: string; readonly words: readonly string[] },
  place: ProductFacts['place'],
): Finding =>
  findingOf('outside-these-rules', {
    limit: 'pure maple syrup, and nothing put into it',
    found: `${found} Answered yes. ${hazardSentences.flavoured}`,
    wayOut: askAuthority(place),
    identity: { evidence: { kind: 'flavoured', note: note.trim(), added: words.join(' '), pouredFrom: [] } },
  });

const askAuthority = (place: ProductFacts['place']): string =>
  `Ask ${place.authority[0]?.name ?? 'the authority for food in your place'} what it requires; an owner then releases the lot and records who was asked, when, and the answer. Or use it at home and don’t sell it.`;

/** The finding where the note names an added ingredient, also where the product is recorded as maple syrup. */
function additionInNote(product: string, note: string, added: string): Finding {
  const recorded = isBlank(product) ? 'product: not written, and' : `product: ${product.trim()}, but`;
  return findingOf('outside-these-rules', {
    limit: 'pure maple syrup, and nothing put into it',
    found: `${recorded} the note says “${note.trim().slice(0, 80)}” (${added}). ${hazardSentences.flavoured}`,
    wayOut:
      'Record which product it is. If nothing was added to this syrup, correct the note: a maker then releases the lot with the reason.',
    identity: {
      evidence: {
        kind: 'flavoured',
        ...(isBlank(product) ? {} : { product: product.trim() }),
        note: note.trim(),
        added,
        pouredFrom: [],
      },
    },
  });
}

/** The hazards of each product that fill temperature and density don't control: the usual cautions, from memory. */
const hazardSentences: Readonly<Record<OtherProduct, string>> = {
  infused:
    'What was steeped in it (herbs, spices, fruit, garlic) brings water, spores and perhaps allergens that hot filling is not shown to deal with.',
  flavoured: 'What was added to it changes its water, its acid and its allergens; a density doesn’t judge the mixture.',
  'barrel-aged':
    'A barrel gives water, alcohol and whatever it held before; a density read before the barrel says nothing of the syrup after it.',
  cream:
    'Maple cream is stirred as it cools and filled cool: it keeps by how little water is free in it, which this book doesn’t measure.',
  butter:
    'Maple butter or spread is stirred as it cools and filled cool: it keeps by how little water is free in it, which this book doesn’t measure.',
  candy: 'Maple candy keeps by how little water is free in it, which this book doesn’t measure.',
  sugar: 'Maple sugar keeps by how dry it is, which this book doesn’t measure.',
  'below-density':
    'Below the least density of the place it is not maple syrup by that standard, and thin syrup moulds and ferments.',
  other: 'No rule here covers how it is made or how it keeps.',
};

/** The first match counts: processes before `butter`, which may also be a flavour. */
const productPatterns: readonly (readonly [OtherProduct, RegExp])[] = [
  ['infused', /\b(?:infus\w*|steeped|mace\w*)\b/u],
  ['barrel-aged', /\b(?:barrel\w*|barrique\w*|fut|bourbon|whisk\w*|rum|rhum|oak|chene)\b/u],
  [
    'flavoured',
    /\b(?:flavou?r\w*|aromatis\w*|parfum\w*|vanil\w*|cinnamon|cannelle|ginger|gingembre|coffee|cafe|chil[il]i?\w*|smoked|fume\w*)\b/u,
  ],
  ['cream', /\b(?:cream\w*|creme|spread|tartinade)\b/u],
  ['butter', /\b(?:butter|beurre)\b/u],
  ['candy', /\b(?:cand(?:y|ies)|bonbons?|taffy|tire|caramels?|fudge)\b/u],
  ['sugar', /\b(?:sugar|sucre)\b/u],
  ['below-density', /\b(?:below|under|thin|light) ?density\b|\bsous la densite\b/u],
];

const syrupOrGrade =
  /\b(?:syrup|sirup|sirop|pure maple|erable pur|(?:early|late|first|last|mid season) run|grade|amber|ambre|golden|dore|dark|fonce|fancy)\b/u;
/** Words of pure maple syrup: grades (also from before 2015), seasons, places, packaging. */
const syrupWords =
  /\b(?:100|pure?s?|maple|syrup|sirup|sirop|d|erable|de|grade|categorie|category|a|b|golden|(?:light|medium|extra) amber|amber|fancy|dark|very|delicate|rich|robust|strong|taste|colou?r|canada|us|organic|bio|biologique|and|et|the|of|from|du|our|single|origin|local|wood|fired|bois|unfiltered|kosher|natural|naturel|homemade|estate|family|reserve|wedding|favou?rs?|gift|sampler|first|last|run|coulee|premiere|recolte|early|late|mid|season|spring|printemps|certified|certifie|bulk|commercial|processing|dore|ambre|fonce|tres|delicat|riche|gout|vermont|vt|nh|ny|new hampshire|new york|maine|massachusetts|connecticut|pennsylvania|ohio|michigan|wisconsin|minnesota|quebec|ontario|new brunswick|nova scotia)\b/gu;
