import { millilitresIn } from '#libs/syrup/quantities.js';
import type { Season } from './season.js';

/** The season in five numbers. */
export interface SeasonTotals {
  readonly boils: number;
  readonly packs: number;
  readonly jarsMade: number;
  /** Syrup drawn off by the year's boils in US gallons, rounded to a hundredth. */
  readonly syrupGallons: number;
  /** Lots held now: neither let go nor recalled. */
  readonly held: number;
}

export function seasonTotals(season: Season): SeasonTotals {
  return {
    boils: season.boils.length,
    packs: season.lots.length,
    jarsMade: season.lots.reduce((jars, lot) => jars + lot.jarsMade, 0),
    syrupGallons: Math.round((syrupMillilitres(season) / millilitresIn.gal) * 100) / 100,
    held: season.lots.filter((lot) => lot.status === 'held').length,
  };
}

/** What the year's boils drew off. What one left in its pans for the next was never drawn, so nothing counts twice. */
export const syrupMillilitres = (season: Season): number =>
  season.boils.reduce((sum, boil) => sum + boil.syrupMillilitres, 0);
