import { type ColourClass, gradeText } from '../science/colour.js';
import type { PlaceRules } from '../labelling/places.js';

/** The grade that a label, page or document may print; if none, the reason. */
export type GradeStatement =
  { readonly text: string; readonly textFr?: string } | { readonly text: null; readonly why: string | undefined };

interface GradeQuery {
  /** Null where the colour was not judged. */
  readonly colour: ColourClass | null;
  readonly place: Pick<PlaceRules, 'gradeNames'>;
  readonly millilitres: number;
  readonly federalLicence: FederalLicence;
}

/** The federal licence as the maker recorded it; it counts only with the answer yes and a number. */
export interface FederalLicence {
  readonly federalLicence?: string | undefined;
  readonly federalLicenceNumber?: string | undefined;
}

/**
 * In Canada only the holder of a federal licence may put a grade name on food (Safe Food for Canadians Regulations s.
 * 308(1), read), with the names of the Grade Compendium (s. 305). Quebec's own category is for syrup sold in Quebec
 * (P-29, r. 1, Sch. 8.A, read). Ontario's is `Ontario Grade A` with one of the four colour classes, its taste words
 * optional (the ministry's page of December 2017, read); its French name was not found, so none is printed, and no
 * grade is required under 125 mL.
 */
export function gradeStatement({ colour, place, millilitres, federalLicence }: GradeQuery): GradeStatement {
  if (!colour) return { text: null, why: undefined };
  if (place.gradeNames === 'US') return { text: gradeText(colour, 'US') };
  if (holdsFederalLicence(federalLicence))
    return { text: gradeText(colour, 'CA-en'), textFr: gradeText(colour, 'CA-fr') };
  switch (place.gradeNames) {
    case 'QC':
      return { text: `Category A ${colour}`, textFr: `Catégorie A ${quebecColours[colour]}` };
    case 'ON':
      // Below this size no grade is required.
      if (millilitres < ontarioGradeFromMillilitres) return { text: null, why: undefined };
      return { text: `Ontario Grade A ${colour}` };
    case 'CA':
      return { text: null, why: licenceOnly };
  }
}

/** Whether the sugarhouse holds a Canadian federal licence: yes was recorded, with its number. */
export const holdsFederalLicence = ({ federalLicence, federalLicenceNumber }: FederalLicence): boolean =>
  federalLicence === 'yes' && (federalLicenceNumber ?? '').trim() !== '';

/** Not required on containers under this size (the ministry’s page of label requirements, read). */
export const ontarioGradeFromMillilitres = 125;

const licenceOnly =
  'No grade: only the holder of a federal licence may put a Canada grade name on syrup (SFCR s. 308(1)), and no licence with its number is recorded under The sugarhouse.';

/** P-29, r. 1, Sch. 8.B (read). */
const quebecColours: Readonly<Record<ColourClass, string>> = {
  Golden: 'Doré',
  Amber: 'Ambré',
  Dark: 'Foncé',
  'Very Dark': 'Très foncé',
};
