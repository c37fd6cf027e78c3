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

/** Syrup carried from one of the year's boils into the next is in both volumes, so it is taken off once. */
export function seasonTotals(season: Season): SeasonTotals {
  return {
    boils: season.boils.length,
    packs: season.lots.length,
    jarsMade: season.lots.reduce((jars, lot) => jars + lot.jarsMade, 0),
    syrupGallons: Math.round((syrupMillilitres(season) / millilitresIn.gal) * 100) / 100,
    held: season.lots.filter((lot) => lot.status === 'held').length,
  };
}

export function syrupMillilitres(season: Season): number {
  const boils = new Set(season.boils.map((boil) => boil.lot));
  const drawn = season.boils.reduce((sum, boil) => sum + boil.syrupMillilitres, 0);
  const carriedOver = season.boils
    .flatMap((boil) => boil.carriedFrom)
    .filter((input) => boils.has(input.code))
    .reduce((sum, input) => sum + input.millilitres, 0);
  return drawn - carriedOver;
}
