import type { SeasonLot } from './lot.js';
import { shortDay, tenth } from '#libs/format/format.js';

/** `26077A 18 Mar`, each boil whose syrup is in the jars; above three, the first two and how many more. */
export function boiledCell(lot: SeasonLot, year: number): string {
  const each = lot.boiled.map(
    ({ code, kind, at }) => `${code} ${kind === 'receipt' ? 'bought ' : ''}${shortDay(at, year)}`,
  );
  if (each.length === 0) return 'not recorded';
  return each.length <= 3 ? each.join(', ') : `${each.slice(0, 2).join(', ')} and ${each.length - 2} more`;
}

/** `Amber, glass jar 8 fl oz`: a product other than syrup is named first. */
export const productCell = (lot: SeasonLot): string =>
  [lot.product, lot.colour, lot.container].filter((part) => part !== null && part !== '').join(', ');

/** `181 F, T1`: the thermometer that the reading names; `not recorded` where it names none. */
export function fillCell(lot: SeasonLot): string {
  if (lot.lowestFillTyped === null) return 'not recorded';
  const replaced = lot.fills.filter((fill) => fill.replaced).map(({ reading }) => bare(reading.typed));
  const by = lot.lowestFillBy ?? 'not recorded';
  return `${bare(lot.lowestFillTyped)}, ${by}${replaced.length > 0 ? `; ${replaced.join(', ')} replaced` : ''}`;
}

/** The time and the jars of a reading are on later pages. */
const bare = (typed: string): string =>
  typed.replace(/\s*[@#].*$/, '').replace(/\s+(?:jars?|trays?|cases?|pots?|bocal|bocaux)\b.*$/i, '');

/** `67.2 (67.2 Bx at 68 F)`: the judged value beside the reading it came from. */
export function densityCell(lot: SeasonLot): string {
  const judged = lot.densityJudged;
  if (!judged) return 'not recorded';
  const read = `${judged.typed}${judged.sampleTyped ? ` at ${judged.sampleTyped}` : ''}`;
  return `${lot.brix === null ? 'not judged' : tenth(lot.brix)} (${read}${judged.again ? ', read again' : ''})`;
}

/** The allergens as recorded for the lot. */
export const allergenCell = (lot: SeasonLot): string => lot.allergensSaid;
