import { type Sourced, sourceText } from '#libs/syrup/rules/provenance.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';
import { usStateNames } from '#libs/syrup/labelling/us-states.js';
import type { LabelContent } from './label.js';

/** Something the place requires that the label lacks, with its source. */
export interface MissingItem extends Sourced {
  readonly item: string;
  readonly lacks: string;
}

/** What the maker should know before printing. Nothing here blocks a label: the maker checks it against local rules. */
export function missingItems(content: LabelContent, place: Pick<PlaceRules, 'labels'>): MissingItem[] {
  const missing = place.labels
    .filter(({ aboveMillilitres = 0 }) => content.container.millilitres > aboveMillilitres)
    .flatMap(({ item, carries, source, mark, readOn }) => {
      const lacks = (missingChecks[carries] ?? unknownItem)(content);
      return lacks ? [{ item, lacks, source, mark, readOn }] : [];
    });
  return content.panel ? missing : [...missing, panelNotMeasured];
}

/** What a label lacks, which law asks for it and its source. */
export const missingSentence = (missing: MissingItem): string =>
  `${missing.lacks}. Required: ${missing.item}; ${sourceText(missing)}`;

const panelNotMeasured: MissingItem = {
  item: 'letters of the net quantity as high as the front panel of the container requires',
  lacks: 'The size of this container’s front panel is not recorded, so a tall jar was assumed',
  source: '21 CFR 101.1, 101.7(i); in Canada Safe Food for Canadians Regulations s. 229, Schedule 6',
  mark: 'read',
  readOn: '2026',
};

/** By the id of the required item: what is missing, or undefined. */
const missingChecks: Readonly<Record<string, (content: LabelContent) => string | undefined>> = {
  product: ({ product, productFr, bilingual }) =>
    missingUnless(product.trim() && (!bilingual || productFr?.trim()), 'The label does not say what is in the jar'),
  bilingual: ({ bilingual, productFr, gradeText, gradeTextFr, keep, keepFr }) =>
    missingUnless(
      bilingual && productFr && (!gradeText || gradeTextFr) && (!keep || keepFr),
      'Not all of the label is in both languages',
    ),
  grade: ({ gradeText, gradeLeftOut }) =>
    missingUnless(
      gradeText?.trim(),
      gradeLeftOut ?? 'No grade: the colour of this lot is not recorded or could not be judged',
    ),
  'net-quantity': ({ container }) =>
    missingUnless(container.millilitres > 0, 'No net quantity: the container has no volume'),
  maker: ({ maker }) => missingUnless(maker.name.trim(), 'The maker’s name is missing'),
  address: missingAddress,
  'lot-code': ({ lot }) => missingUnless(lot.trim(), 'No lot code'),
  allergens: missingAllergens,
  'cap-seal': () => 'These labels do not seal the cap: add a band or strip that breaks when the jar is opened',
  'home-kitchen': () => 'Not printed here: where it applies, add it by hand',
  'place-of-making': ({ maker }) =>
    missingUnless(
      maker.lines.join(' ').trim(),
      'The place of manufacture is not recorded: the maker’s address is used',
    ),
};

function missingAllergens({ allergens, isDefoamerUnrecorded }: LabelContent): string | undefined {
  if (allergens === null) return 'Whether a defoamer contained an allergen is not recorded';
  if (allergens.some(isWholeFamily))
    return 'The allergen is named only by its group: name the food itself, such as almonds';
  return isDefoamerUnrecorded
    ? 'Whether a defoamer was used is not recorded: butter or cream would have to be declared as milk'
    : undefined;
}

/** A whole allergen family, where the law requires the specific nut, fish or shellfish. */
const isWholeFamily = (text: string): boolean =>
  /^(tree nuts?|nuts?|fish|crustacean shellfish|crustaceans)( \/|$)/iu.test(text);

const unknownItem = (): string => 'Boilbook cannot check this: check it yourself';

const missingUnless = (isPresent: unknown, lacks: string): string | undefined => (isPresent ? undefined : lacks);

function missingAddress({ maker, country }: LabelContent): string | undefined {
  if (!maker.name.trim()) return 'The maker’s name is missing';
  const lines = maker.lines.join(' ');
  if (!lines.trim()) return 'The maker’s place of business is missing';
  if (country === 'CA') return undefined;
  if (!/\b\d{5}(-\d{4})?\b/.test(lines)) return 'The maker’s place of business has no ZIP code';
  if (!namesState(lines)) return 'The maker’s place of business has no state';
  return missingUnless(
    maker.lines.length > 1,
    'The maker’s place of business has no street: it may be left out only where a current city or telephone directory has it',
  );
}

/** A state's code counts only in capitals and before the ZIP code, so that no word of a street is mistaken for one. */
const namesState = (lines: string): boolean =>
  Object.entries(usStateNames).some(
    ([code, name]) =>
      lines.toLowerCase().includes(name.toLowerCase()) || new RegExp(`\\b${code},? +\\d{5}`).test(lines),
  );
