import { millilitresIn } from '#libs/syrup/quantities/units.js';
import { formatRounded } from '#libs/syrup/quantities/format-quantities.js';

/** A calculated volume: 11.36 L, 240 mL. */
export const formatLitres = (millilitres: number): string =>
  millilitres >= 1000 ? `${(millilitres / 1000).toFixed(2)} L` : `${Math.round(millilitres)} mL`;

/** The same in US units: 3 gal, 1 qt, 19.2 fl oz. */
export function formatUs(millilitres: number): string {
  const unit = (['gal', 'qt'] as const).find((each) => millilitres >= millilitresIn[each]) ?? 'fl oz';
  return `${formatRounded(millilitres / millilitresIn[unit], unit === 'fl oz' ? 1 : 2)} ${unit}`;
}

/** In both units, where no typed unit decides: 1 qt (946 mL). */
export const formatBoth = (millilitres: number): string => `${formatUs(millilitres)} (${formatLitres(millilitres)})`;
