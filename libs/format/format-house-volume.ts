import { millilitresIn } from '#libs/syrup/quantities/units.js';
import { formatRounded } from '#libs/syrup/quantities/format-quantities.js';

/** A calculated volume, in the house's own unit: `12.5 gal`, `3 qt`, `40 L`. */
export function volumeText(millilitres: number, volumes: 'gal' | 'L', canada = false): string {
  if (volumes === 'L')
    return millilitres < 1000 ? `${Math.round(millilitres)} mL` : `${formatRounded(millilitres / 1000, 1)} L`;
  const gallon = canada ? 'US gal' : 'gal';
  const gallons = millilitres / millilitresIn.gal;
  if (gallons >= 1 || gallons === 0) return `${formatRounded(gallons, gallons < 10 ? 2 : 1)} ${gallon}`;
  const quarts = millilitres / millilitresIn.qt;
  return quarts >= 1
    ? `${formatRounded(quarts, 2)} ${canada ? 'US qt' : 'qt'}`
    : `${formatRounded(millilitres / millilitresIn['fl oz'], 1)} ${canada ? 'US fl oz' : 'fl oz'}`;
}
