import type { RecordRow } from '#libs/records/entry.js';
import type { HouseBody } from '#libs/records/kinds/house.js';
import { packFields } from '../kinds/pack.js';
import { declaredTexts } from '../record/declared-texts.js';
import { findRecord, type Lot } from '#libs/store/queries/lots.js';
import { gradeStatement } from '#libs/syrup/rules/grade-statement.js';
import type { RuleName } from '#libs/syrup/rules/rules.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';
import type { FurtherText, LabelContent, Panel } from '#libs/labels/content/label.js';
import { labelAllergens } from '#libs/labels/content/label-allergens.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** The label text of a pack, read from the book; undefined where the pack has no record. */
export async function loadLabelContent(
  reader: SugarhouseReader,
  lot: Lot,
  place: PlaceRules,
  extras: LabelExtras = {},
): Promise<LabelContent | undefined> {
  const pack = await findRecord(reader, 'pack', lot.code);
  if (!pack) return undefined;
  const house = (await findRecord(reader, 'house', 'house'))?.body;
  return labelContent(lot, pack, { house, place }, extras);
}

type PackRecord = Pick<RecordRow<'pack'>, 'typed' | 'body'>;

interface LabelExtras {
  readonly panel?: Panel;
  readonly bestBefore?: string;
}

/** The same from its record, its verdict and the sugarhouse's details. */
export function labelContent(
  lot: Lot,
  { body: pack, typed }: PackRecord,
  { house, place }: { readonly house: HouseBody | undefined; readonly place: PlaceRules },
  extras: LabelExtras = {},
): LabelContent {
  const { volume } = pack.container;
  const colour = lot.verdict?.colour ?? null;
  const canada = place.canada;
  const grade = gradeStatement({ colour, place, millilitres: volume.millilitres, federalLicence: house ?? {} });
  const declaredLabelTexts = (where: 'onLabel' | 'onJarPage'): FurtherText[] =>
    declaredTexts(packFields, where, { typed, body: pack }).flatMap(({ label, text }) =>
      text ? [{ label, text }] : [],
    );
  const isFound = (rule: RuleName): boolean => lot.verdict?.findings.some((finding) => finding.rule === rule) ?? false;
  return {
    practice: house?.practice ?? false,
    product: 'Maple syrup',
    gradeText: grade.text,
    ...(grade.text === null && grade.why ? { gradeLeftOut: grade.why } : {}),
    container: {
      typed: pack.container.typed,
      millilitres: volume.millilitres,
      unit: volume.unit,
      amount: volume.amount,
    },
    country: place.country,
    lot: lot.code,
    packedOn: pack.packedAt.slice(0, 10),
    maker: {
      name: house?.name ?? '',
      lines: [house?.address, [house?.town, house?.postcode].filter(Boolean).join(' ')].filter(
        (line): line is string => !!line,
      ),
      ...(house?.phone ? { phone: house.phone } : {}),
    },
    allergens: isFound('defoamer-allergens') ? null : labelAllergens(lot.verdict?.allergens ?? [], place),
    isDefoamerUnrecorded: isFound('defoamer-not-recorded'),
    keep: 'Refrigerate after opening',
    bilingual: canada,
    ...(canada
      ? {
          productFr: 'Sirop d’érable',
          keepFr: 'Réfrigérer après ouverture',
          ...(grade.text !== null && grade.textFr ? { gradeTextFr: grade.textFr } : {}),
        }
      : {}),
    furtherTexts: declaredLabelTexts('onLabel'),
    publicTexts: declaredLabelTexts('onJarPage'),
    ...extras,
  };
}
