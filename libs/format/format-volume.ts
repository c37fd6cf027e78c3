import { millilitresIn } from '#libs/syrup/quantities/units.js';
import { tenth } from './format.js';
import { formatLitres, formatUs } from './format-volume-pair.js';

/** The part of a season that shows which unit its makers use. */
interface BoilsAsTyped {
  readonly boils: readonly { readonly syrupVolumeTyped: string }[];
}

/** `gal` or `L`: whichever the makers recorded their syrup in more often. Cached, since every lot needs it. */
export function seasonUnit({ boils }: BoilsAsTyped): 'gal' | 'L' {
  const known = unitOf.get(boils);
  if (known !== undefined) return known;
  const metric = boils.filter((boil) => /(^|[\d\s])(m?l|litres?|liters?)\s*$/i.test(boil.syrupVolumeTyped));
  const unit = metric.length * 2 > boils.length ? 'L' : 'gal';
  unitOf.set(boils, unit);
  return unit;
}
const unitOf = new WeakMap<object, 'gal' | 'L'>();

/** A volume in the makers' own unit. */
export const inSeasonUnit = (season: BoilsAsTyped, millilitres: number): number =>
  millilitres / millilitresIn[seasonUnit(season)];

/** `31.2 gal`, `0.95 gal`: a volume in the makers' own unit, to the hundredth where it is less than ten. */
export function formatSeasonVolume(season: BoilsAsTyped, millilitres: number): string {
  const amount = inSeasonUnit(season, millilitres);
  // A typed hundredth may be slightly smaller in binary.
  const little = String(Number((amount + 1e-9).toFixed(2)));
  return `${amount < 10 ? little : tenth(amount)} ${seasonUnit(season)}`;
}

/** `1 qt`, `19.2 fl oz`, `240 mL`: the same for volumes that may be small. */
export const littleVolume = (season: BoilsAsTyped, millilitres: number): string =>
  seasonUnit(season) === 'L' ? formatLitres(millilitres) : formatUs(millilitres);
