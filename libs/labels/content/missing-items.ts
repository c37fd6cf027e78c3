import type { LabelItem, PlaceRules } from '#libs/syrup/labelling/places.js';
import type { LabelContent } from './label.js';

/** Something the place asks for and the label lacks, with where that is written and how far it was seen. */
export interface MissingItem {
  readonly item: string;
  readonly lacks: string;
  readonly source: string;
  readonly mark: LabelItem['mark'];
}

/**
 * What the maker should know before printing. Nothing here stops a label: the maker checks it against local rules.
 */
export function missingItems(content: LabelContent, place: Pick<PlaceRules, 'labels'>): MissingItem[] {
  const asked = place.labels
    .filter(({ aboveMillilitres = 0 }) => content.container.millilitres > aboveMillilitres)
    .flatMap(({ item, carries, source, mark }) => {
      const lacks = (lacking[carries] ?? unknownItem)(content);
      return lacks ? [{ item, lacks, source, mark }] : [];
    });
  return content.panel ? asked : [...asked, panelNotMeasured];
}

export const missingSentence = ({ item, lacks, source, mark }: MissingItem): string =>
  `${lacks}. Asked for: ${item} (${source}${mark === 'practice' ? '' : `, ${mark}`})`;

const panelNotMeasured: MissingItem = {
  item: 'letters of the net quantity as high as the front panel of the container asks for',
  lacks: 'The panel of this container was not measured, so a tall jar was taken for granted',
  source: '21 CFR 101.1, 101.7(i); in Canada Safe Food for Canadians Regulations s. 229, Schedule 6',
  mark: 'read',
};

/** By what the item carries: what is lacking, or nothing. */
const lacking: Readonly<Record<string, (content: LabelContent) => string | undefined>> = {
  product: ({ product, productFr, bilingual }) =>
    unless(product.trim() && (!bilingual || productFr?.trim()), 'The label does not say what is in the jar'),
  bilingual: ({ bilingual, productFr, gradeWords, gradeWordsFr, keep, keepFr }) =>
    unless(
      bilingual && productFr && (!gradeWords || gradeWordsFr) && (!keep || keepFr),
      'The label is not in both languages throughout',
    ),
  grade: ({ gradeWords, gradeLeftOut }) =>
    unless(gradeWords?.trim(), gradeLeftOut ?? 'No grade: the colour of this lot was not judged'),
  'net-quantity': ({ container }) => unless(container.millilitres > 0, 'No net quantity: the container has no volume'),
  maker: ({ maker }) => unless(maker.name.trim(), 'The maker’s name is missing'),
  address: missingAddress,
  'lot-code': ({ lot }) => unless(lot.trim(), 'No lot code'),
  allergens: ({ allergens }) =>
    unless(allergens !== null, 'It was not answered whether a defoamer carried an allergen'),
};

const unknownItem = (): string => 'Look for this by hand: the book does not know how to';

const unless = (there: unknown, lacks: string): string | undefined => (there ? undefined : lacks);

function missingAddress({ maker, country }: LabelContent): string | undefined {
  if (!maker.name.trim()) return 'The maker’s name is missing';
  const lines = maker.lines.join(' ');
  if (!lines.trim()) return 'The maker’s place of business is missing';
  return unless(country === 'CA' || /\b\d{5}(-\d{4})?\b/.test(lines), 'The maker’s place of business has no ZIP code');
}
