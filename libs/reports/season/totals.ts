import { millilitresIn } from '#libs/syrup/quantities/units.js';
import type { Deviation, VerdictChange } from './deviation.js';
import type { SeasonBoil } from './flow.js';
import type { LateEntry, SeasonLot } from './lot.js';
import type { Season } from './season.js';

/** Every total in any document of the season, computed only here. */
export interface SeasonTotals {
  readonly boils: number;
  readonly packs: number;
  readonly jarsMade: number;
  /** Syrup drawn off by the year's boils in US gallons, rounded to a hundredth. */
  readonly syrupGallons: number;
  /** Lots held now: neither released nor recalled. */
  readonly held: number;
  readonly released: number;
  readonly recalled: number;
  /** Sap that went into the boils, in US gallons to a hundredth. */
  readonly sapGallons: number;
  /** Boils without a recorded amount of sap: the sap above lacks theirs. */
  readonly boilsWithoutSap: number;
  readonly jarsOnHand: number;
  readonly jarsSentOut: number;
  readonly jarsReturned: number;
  readonly jarsDestroyed: number;
  readonly jarsOther: number;
  /** For the lots that were counted; null where none was. */
  readonly unaccounted: number | null;
  readonly lotsNotCounted: number;
  readonly deviations: number;
  readonly deviationsOpen: number;
  readonly verdictChanges: number;
  readonly lateEntries: number;
  readonly complaints: number;
}

/** The sums of the season: boils, packs, jars by what became of them, and syrup. */
export function seasonTotals(season: Season): SeasonTotals {
  const { lots } = season;
  const sum = (of: (lot: SeasonLot) => number): number => lots.reduce((total, lot) => total + of(lot), 0);
  const standing = (status: SeasonLot['status']): number => lots.filter((lot) => lot.status === status).length;
  const deviations = seasonDeviations(season);
  const counted = lots.filter((lot) => lot.unaccounted !== null);
  return {
    boils: season.boils.length,
    packs: lots.length,
    jarsMade: sum((lot) => lot.jarsMade),
    syrupGallons: gallons(syrupMillilitres(season)),
    held: standing('held'),
    released: standing('released'),
    recalled: standing('recalled'),
    sapGallons: gallons(sapMillilitres(season)),
    boilsWithoutSap: season.boils.filter((boil) => sapBoiled(boil) === null).length,
    jarsOnHand: sum((lot) => lot.jarsOnHand),
    jarsSentOut: sum((lot) => lot.jarsSentOut),
    jarsReturned: sum((lot) => lot.jarsReturned),
    jarsDestroyed: sum((lot) => lot.jarsDestroyed),
    jarsOther: sum((lot) => lot.jarsOther),
    unaccounted: counted.length === 0 ? null : sum((lot) => lot.unaccounted ?? 0),
    lotsNotCounted: lots.length - counted.length,
    deviations: deviations.length,
    deviationsOpen: deviations.filter((each) => each.open).length,
    verdictChanges: seasonChanges(season).length,
    lateEntries: seasonLate(season).length,
    complaints: season.side.complaints.length,
  };
}

const gallons = (millilitres: number): number => Math.round((millilitres / millilitresIn.gal) * 100) / 100;

/**
 * What the year's boils drew off. Syrup left in the pans for the next boil was never drawn, so nothing counts twice.
 */
export const syrupMillilitres = (season: Season): number =>
  season.boils.reduce((sum, boil) => sum + boil.syrupMillilitres, 0);

/**
 * The sap of a boil: as measured, else the sum of the gatherings that went in, with an amount or all that was left of
 * them. Null where neither was recorded.
 */
export function sapBoiled(boil: Pick<SeasonBoil, 'sapMillilitres' | 'inputs'>): number | null {
  if (boil.sapMillilitres !== null) return boil.sapMillilitres;
  return boil.inputs.length === 0 ? null : boil.inputs.reduce((sum, input) => sum + input.millilitres, 0);
}

/** The sap boiled in the season, in millilitres; a boil without a sap volume counts as 0. */
export const sapMillilitres = (season: Season): number =>
  season.boils.reduce((sum, boil) => sum + (sapBoiled(boil) ?? 0), 0);

/** Deviations of boils and packs, in the order in which they were found. */
export const seasonDeviations = ({ boils, lots }: Season): readonly Deviation[] =>
  [...boils, ...lots]
    .flatMap((lot) => lot.deviations)
    .sort((one, other) => Date.parse(one.foundAt) - Date.parse(other.foundAt));

/** Corrections that changed a verdict, for boils and packs, oldest first. */
export const seasonChanges = ({ boils, lots }: Season): readonly VerdictChange[] =>
  [...boils, ...lots]
    .flatMap((lot) => lot.verdictChanges)
    .sort((one, other) => Date.parse(one.at) - Date.parse(other.at));

/** Entries typed long after they happened. One about several lots counts once. */
export function seasonLate({ boils, lots }: Season): readonly (LateEntry & { readonly lot: string })[] {
  const seen = new Set<string>();
  return [...boils, ...lots]
    .flatMap((lot) => lot.lateEntries.map((late) => ({ ...late, lot: lot.lot })))
    .filter((late) => {
      const key = `${late.field} ${late.happenedAt} ${late.typedAt}`;
      return seen.has(key) ? false : seen.add(key);
    })
    .sort((one, other) => other.hoursLate - one.hoursLate);
}
