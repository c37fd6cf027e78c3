import { readFileSync } from 'node:fs';
import { templatePath } from '#libs/package-root.js';
import type { Provenance } from '#libs/syrup/rules/provenance.js';

/** Where a caution is shown: the page, label or document of that action. */
export const cautionPlaces = [
  'sap',
  'boil',
  'filter',
  'pack',
  'seal',
  'label',
  'sell',
  'clean',
  'equipment',
  'print',
] as const;
export type CautionPlace = (typeof cautionPlaces)[number];

export interface Caution {
  readonly id: string;
  readonly where: readonly CautionPlace[];
  readonly text: string;
  readonly source: string;
  readonly mark: Provenance;
  readonly readOn: string | null;
}

/** The usual cautions for one place, or all of them, in the order of the file. */
export function cautions(where?: CautionPlace): readonly Caution[] {
  cachedCautions ??= JSON.parse(readFileSync(templatePath('places/cautions.json'), 'utf8')) as readonly Caution[];
  return where ? cachedCautions.filter((each) => each.where.includes(where)) : cachedCautions;
}

let cachedCautions: readonly Caution[] | undefined;
