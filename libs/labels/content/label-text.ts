import type { LabelContent } from './label.js';
import type { Wish } from '../layout/fit-text.js';

/**
 * Least heights of texts other than the net quantity, measured on the small o where there are small letters. US: what
 * the law asks for at 1/16 in (21 CFR 101.2(c), read in a copy of 2026-09-12); for the rest no legal height is known,
 * so we use small letters of a millimetre (common practice, no source). Canada: 1.6 mm (SFCR ss. 210, 211, read), but
 * the grade name and colour class by the panel like the net quantity (ss. 312(1)(b), 325, Schedule 6, read).
 */
const leastUsMm = 25.4 / 16;
const leastOursMm = 1;
const leastOursCapitalsMm = 1.35;
const leastCanadaMm = 1.6;

/** Everything on the label except the net quantity and the symbol, from top to bottom, as wishes (see `Wish`). */
export function labelText(content: LabelContent, netLeastMm: number): { maker: Wish[]; text: Wish[]; lot: Wish[] } {
  const canada = content.country === 'CA';
  const small = canada ? leastCanadaMm : leastOursMm;
  const capitals = canada ? leastCanadaMm : leastOursCapitalsMm;
  const makerLeast = canada ? leastCanadaMm : leastUsMm;
  const both = content.bilingual;
  const grade = canada
    ? ({ face: 'words-semi', emMm: 2.5, leastLetterMm: netLeastMm, mayBeCapitals: true } as const)
    : ({ face: 'words-semi', emMm: 2.5, leastLetterMm: small } as const);
  const text: (Wish | undefined)[] = [
    {
      item: 'Product',
      text: content.product,
      face: 'words-heavy',
      emMm: 3.6,
      leastLetterMm: makerLeast,
      mayBeCapitals: true,
      gapBeforeMm: 0.6,
    },
    wishIf(both && content.productFr, (text) => ({
      item: 'Product in French',
      text,
      face: 'words-heavy',
      emMm: 3.6,
      leastLetterMm: makerLeast,
      mayBeCapitals: true,
      joins: 'gladly',
    })),
    wishIf(content.gradeText, (text) => ({
      item: 'Grade',
      text,
      ...grade,
    })),
    wishIf(both && content.gradeTextFr, (text) => ({
      item: 'Grade in French',
      text,
      ...grade,
    })),
    wishIf(content.keep, (text) => ({
      item: 'Keeping',
      text,
      face: 'words',
      emMm: 2.3,
      leastLetterMm: small,
      gapBeforeMm: 0.5,
    })),
    wishIf(both && content.keepFr, (text) => ({
      item: 'Keeping in French',
      text,
      face: 'words',
      emMm: 2.3,
      leastLetterMm: small,
      joins: 'gladly',
    })),
    wishIf(content.bestBefore, (text) => ({
      item: 'Best before',
      text: bestBeforeText(text, both),
      face: 'words',
      emMm: 2.3,
      leastLetterMm: small,
      joins: 'gladly',
    })),
    wishIf(allergenText(content), (text) => ({
      item: 'Allergens',
      text,
      face: 'words-bold',
      emMm: 2.4,
      leastLetterMm: makerLeast,
      mayBeCapitals: true,
      joins: 'if need be',
    })),
  ];
  const maker: Wish[] = [
    {
      item: 'Maker',
      text: content.maker.name,
      face: 'words-bold',
      emMm: 3.2,
      leastLetterMm: makerLeast,
      mayBeCapitals: true,
    },
    ...content.maker.lines.map((text): Wish => ({
      item: 'Address',
      text,
      face: 'words',
      emMm: 2.4,
      leastLetterMm: makerLeast,
      mayBeCapitals: true,
    })),
    ...[content.maker.phone]
      .filter((text) => text !== undefined)
      .map((text): Wish => ({
        item: 'Phone',
        text,
        face: 'words',
        emMm: 2.4,
        leastLetterMm: capitals,
        joins: 'gladly',
        optional: true,
      })),
  ];
  const lot: Wish[] = [
    {
      item: 'Packed date',
      text: packedText(content.packedOn, both),
      face: 'words',
      emMm: 2.3,
      leastLetterMm: small,
      gapBeforeMm: 1.2,
      joins: 'if need be',
    },
    { item: 'Lot', text: `LOT ${content.lot}`, face: 'code-bold', emMm: 2.4, leastLetterMm: capitals, joins: 'gladly' },
  ];
  const declared = (content.furtherTexts ?? []).map(({ label, text }): Wish => ({
    item: label,
    text: `${label}: ${text}`,
    face: 'words',
    emMm: 2.3,
    leastLetterMm: small,
    optional: true,
  }));
  return { maker, text: [...text.filter((wish) => wish !== undefined), ...declared], lot };
}

/** The jar's own code and number: the width is the same for every jar of the pack. */
export const codeWish = (canada: boolean): Pick<Wish, 'emMm' | 'leastLetterMm' | 'face'> => ({
  emMm: 2.4,
  leastLetterMm: canada ? leastCanadaMm : leastOursCapitalsMm,
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

const wishIf = (text: string | false | null | undefined, wish: (text: string) => Wish): Wish | undefined =>
  text ? wish(text) : undefined;

/** The bilingual two-letter months of Canadian dates (Food and Drug Regulations B.01.007(5), read). */
const monthNames = [
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
].map(([english, both]) => ({ english: english!, both: both! }));
