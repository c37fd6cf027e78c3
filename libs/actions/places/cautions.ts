import { readFileSync } from 'node:fs';
import { z } from 'zod';
import { templatePath } from '#libs/package-root.js';

/** Where a caution belongs: the page, label or document of that deed. */
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

const caution = z.strictObject({
  id: z.string(),
  where: z.array(z.enum(cautionPlaces)).min(1),
  text: z.string(),
  source: z.string(),
  mark: z.enum(['read', 'second hand', 'worked', 'memory', 'practice']),
  readOn: z.string().nullable(),
});
export type Caution = Readonly<z.infer<typeof caution>>;
export const cautionFile = z.array(caution).min(1);

/** The usual cautions for one place, or all of them, in the order of the file. */
export function cautions(where?: CautionPlace): readonly Caution[] {
  every ??= cautionFile.parse(JSON.parse(readFileSync(templatePath('places/cautions.json'), 'utf8')));
  return where ? every.filter((each) => each.where.includes(where)) : every;
}

let every: readonly Caution[] | undefined;
