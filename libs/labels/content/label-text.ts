import type { LabelContent } from './label.js';
import type { TextToPlace } from '../layout/fit-text.js';

/**
 * Least heights of texts other than the net quantity, measured on the small o where there are small letters. US: what
 * the law asks for at 1/16 in (21 CFR 101.2(c), read in a copy of 2026-09-12); for the rest no legal height is known,
 * so we use small letters of a millimetre (common practice, no source). Canada: 1.6 mm (SFCR ss. 210, 211, read), but
 * the grade name and colour class by the panel like the net quantity (ss. 312(1)(b), 325, Schedule 6, read).
 */
const minUsMm = 25.4 / 16;
const minOwnMm = 1;
const minOwnCapitalsMm = 1.35;
const minCanadaMm = 1.6;

/** What stands on a label in all but its net quantity and its symbol, in three blocks of one order each. */
export interface LabelTexts {
  readonly maker: readonly TextToPlace[];
  readonly text: readonly TextToPlace[];
  readonly lot: readonly TextToPlace[];
}

/** Least letter heights in millimetres, by who may need to read the text. */
interface MinHeights {
  /** Texts for which no country's rule names a height. */
  readonly small: number;
  /** The same in capitals and figures. */
  readonly capitals: number;
  /** What the law asks for: the maker, the product's name, allergens. */
  readonly required: number;
}

/** Everything on the label except the net quantity and the symbol, each block from top to bottom. */
export function labelText(content: LabelContent, minNetMm: number): LabelTexts {
  const canada = content.country === 'CA';
  const least: MinHeights = {
    small: canada ? minCanadaMm : minOwnMm,
    capitals: canada ? minCanadaMm : minOwnCapitalsMm,
    required: canada ? minCanadaMm : minUsMm,
  };
  return {
    maker: makerTexts(content, least),
    text: [
      ...productTexts(content, least),
      ...gradeTexts(content, least, minNetMm),
      ...careTexts(content, least),
      ...declaredTexts(content, least),
    ],
    lot: lotTexts(content, least),
  };
}

function makerTexts({ maker }: LabelContent, { required, capitals }: MinHeights): TextToPlace[] {
  return [
    { item: 'Maker', text: maker.name, face: 'words-bold', emMm: 3.2, minLetterMm: required, mayBeCapitals: true },
    ...maker.lines.map((text): TextToPlace => ({
      item: 'Address',
      text,
      face: 'words',
      emMm: 2.4,
      minLetterMm: required,
      mayBeCapitals: true,
    })),
    ...ifText(maker.phone, (text) => ({
      item: 'Phone',
      text,
      face: 'words',
      emMm: 2.4,
      minLetterMm: capitals,
      sharesLine: 'where it fits',
      optional: true,
    })),
  ];
}

function productTexts({ product, productFr, bilingual }: LabelContent, { required }: MinHeights): TextToPlace[] {
  const style = { face: 'words-heavy', emMm: 3.6, minLetterMm: required, mayBeCapitals: true } as const;
  return [
    { item: 'Product', text: product, ...style, gapBeforeMm: 0.6 },
    ...ifText(bilingual && productFr, (text) => ({
      item: 'Product in French',
      text,
      ...style,
      sharesLine: 'where it fits',
    })),
  ];
}

/** In Canada as high as the net quantity; capitals allowed there. */
function gradeTexts(content: LabelContent, { small }: MinHeights, minNetMm: number): TextToPlace[] {
  const height = content.country === 'CA' ? { minLetterMm: minNetMm, mayBeCapitals: true } : { minLetterMm: small };
  const style = { face: 'words-semi', emMm: 2.5, ...height } as const;
  return [
    ...ifText(content.gradeText, (text) => ({ item: 'Grade', text, ...style })),
    ...ifText(content.bilingual && content.gradeTextFr, (text) => ({ item: 'Grade in French', text, ...style })),
  ];
}

/** How to keep it, until when, and what it contains. */
function careTexts(content: LabelContent, { small, required }: MinHeights): TextToPlace[] {
  const style = { face: 'words', emMm: 2.3, minLetterMm: small } as const;
  return [
    ...ifText(content.keep, (text) => ({ item: 'Keeping', text, ...style, gapBeforeMm: 0.5 })),
    ...ifText(content.bilingual && content.keepFr, (text) => ({
      item: 'Keeping in French',
      text,
      ...style,
      sharesLine: 'where it fits',
    })),
    ...ifText(content.bestBefore, (text) => ({
      item: 'Best before',
      text: bestBeforeText(text, content.bilingual),
      ...style,
      sharesLine: 'where it fits',
    })),
    ...ifText(allergenText(content), (text) => ({
      item: 'Allergens',
      text,
      face: 'words-bold',
      emMm: 2.4,
      minLetterMm: required,
      mayBeCapitals: true,
      sharesLine: 'where needed',
    })),
  ];
}

/** Fields of a pack that declare a line on the label. */
function declaredTexts({ furtherTexts = [] }: LabelContent, { small }: MinHeights): TextToPlace[] {
  return furtherTexts.map(({ label, text }) => ({
    item: label,
    text: `${label}: ${text}`,
    face: 'words',
    emMm: 2.3,
    minLetterMm: small,
    optional: true,
  }));
}

function lotTexts({ packedOn, lot, bilingual }: LabelContent, { small, capitals }: MinHeights): TextToPlace[] {
  return [
    {
      item: 'Packed date',
      text: packedText(packedOn, bilingual),
      face: 'words',
      emMm: 2.3,
      minLetterMm: small,
      gapBeforeMm: 1.2,
      sharesLine: 'where needed',
    },
    {
      item: 'Lot',
      text: `LOT ${lot}`,
      face: 'code-bold',
      emMm: 2.4,
      minLetterMm: capitals,
      sharesLine: 'where it fits',
    },
  ];
}

/** The jar's own code and number: the width is the same for every jar of the pack. */
export const codeStyle = (canada: boolean): Pick<TextToPlace, 'emMm' | 'minLetterMm' | 'face'> => ({
  emMm: 2.4,
  minLetterMm: canada ? minCanadaMm : minOwnCapitalsMm,
  face: 'code-bold',
});

/**
 * `Packed 19 Mar 2026`: the month as a word, so that it can't be misread, and not to look like an expiry date.
 * Bilingual `Packaged on / Empaqueté le 2026 MR 19`: the wording of the Food and Drug Regulations B.01.007(1.2) and the
 * order of its dates, year first (B.01.007(4), (5), read).
 */
export function packedText(isoDate: string, bilingual = false): string {
  const [year, month, day] = isoDate.slice(0, 10).split('-').map(Number);
  const name = monthNames[(month ?? 0) - 1];
  if (!year || !day || !name)
    throw new RangeError(`Packed date: expected an ISO date like 2026-03-19, got "${isoDate}"`);
  return bilingual
    ? `Packaged on / Empaqueté le ${year} ${name.both} ${String(day).padStart(2, '0')}`
    : `Packed ${day} ${name.english} ${year}`;
}

function allergenText({ allergens, bilingual }: LabelContent): string | undefined {
  if (!allergens || allergens.length === 0) return undefined;
  return `${bilingual ? 'Contains / Contient' : 'Contains'}: ${allergens.join(', ')}`;
}

/** In Canada the year first, the two-letter month and the day; no other format is allowed (B.01.007(4)–(6), read). */
function bestBeforeText(text: string, both: boolean): string {
  if (both && /^\d{4}-\d\d-\d\d$/.test(text)) {
    const [year = '', month, day = ''] = text.split('-');
    return `Best before / Meilleur avant ${year} ${monthNames[Number(month) - 1]?.both ?? ''} ${day}`;
  }
  return /best before|meilleur avant/i.test(text)
    ? text
    : `${both ? 'Best before / Meilleur avant' : 'Best before'} ${text}`;
}

const ifText = (text: string | false | null | undefined, place: (text: string) => TextToPlace): TextToPlace[] =>
  text ? [place(text)] : [];

/** The bilingual two-letter months of Canadian dates (Food and Drug Regulations B.01.007(5), read). */
const monthNames = (
  [
    ['Jan', 'JA'],
    ['Feb', 'FE'],
    ['Mar', 'MR'],
    ['Apr', 'AL'],
    ['May', 'MA'],
    ['Jun', 'JN'],
    ['Jul', 'JL'],
    ['Aug', 'AU'],
    ['Sep', 'SE'],
    ['Oct', 'OC'],
    ['Nov', 'NO'],
    ['Dec', 'DE'],
  ] as const
).map(([english, both]) => ({ english, both }));
