import type { AllergenId } from '../contents/allergens.js';
import type { Sourced } from '../rules/provenance.js';

export interface DensityLimit extends Sourced {
  /** °Bx, true mass percent at 20 °C. */
  readonly value: number;
  /** The published °Bé equivalent: a °Bé reading is judged against this, never converted and compared. */
  readonly baume: number;
  readonly baumeSource: string;
  /** Whether it may hold a lot; otherwise it is an advisory until the maker confirms it with the authority. */
  readonly gates: boolean;
}

/** A printed chart: the hydrometer reading of syrup of exactly the least density, by the sample’s temperature. */
export interface DensityChart extends Sourced {
  readonly standardBrix: number;
  readonly calibratedAtFahrenheit: number;
  /**
   * True where the chart is the rule of the place: a reading below it is too thin. Otherwise a reading at or above it
   * passes, and one below it is judged by the formula.
   */
  readonly decides: boolean;
  /** Hottest first. With °Bé where the chart prints that column too. */
  readonly rows: readonly { readonly fahrenheit: number; readonly brix: number; readonly baume?: number | undefined }[];
}
export type ChartScale = 'Bx' | 'Be';

export interface LabelItem extends Sourced {
  readonly item: string;
  /** `product`, `grade`, `net-quantity`, `maker`, `address`, `lot-code` … : an item that the label must carry. */
  readonly carries: string;
  /** Required only on containers larger than this. */
  readonly aboveMillilitres?: number | undefined;
}

export interface PlaceAllergens extends Sourced {
  readonly list: readonly { readonly id: AllergenId; readonly en: string; readonly fr?: string | undefined }[];
}

/**
 * A requirement that somebody who sells syrup may be under, and from when; the authority decides whether it applies.
 */
export interface AppliesHere extends Sourced {
  /** `Registration`, `Licence`, `Label` …: points of one topic are listed together. */
  readonly topic: string;
  /** The requirement, in a sentence. */
  readonly says: string;
  /** Shown only where the answers include one of these. */
  readonly when?:
    { readonly sold?: readonly WhereSold[] | undefined; readonly kitchen?: readonly Kitchen[] | undefined } | undefined;
  /** A yearly amount of money that the text names. */
  readonly threshold?: { readonly dollars: number; readonly of: string } | undefined;
}
export const wheresSold = ['farm-gate', 'market', 'shop', 'border'] as const;
export type WhereSold = (typeof wheresSold)[number];
export const kitchens = ['home', 'separate'] as const;
export type Kitchen = (typeof kitchens)[number];

/** A place’s limits for large containers. */
export interface BulkRules {
  readonly aboveMillilitres: number;
  readonly minimumBrix: DensityLimit;
  readonly maximumBrix: DensityLimit;
  readonly lead: Sourced & { readonly ppb: number };
}

/**
 * The rules of a place, as data from templates/places. Every number has its source beside it, and how that was seen.
 */
export interface PlaceRules {
  readonly id: string;
  readonly name: string;
  /** The name of the standard that applies. */
  readonly standard: string;
  readonly rulesVersion: string;
  readonly country: 'US' | 'CA';
  /** Canadian units (no bare gallons), Canadian grade names, both languages on the label. */
  readonly canada: boolean;
  readonly authority: readonly { readonly name: string; readonly ask: string }[];
  readonly minimumBrix: DensityLimit;
  /** Holds lots in place of `minimumBrix` while that one is only an advisory. */
  readonly standInMinimumBrix: DensityLimit | null;
  readonly maximumBrix: DensityLimit | null;
  readonly bulk?: BulkRules | undefined;
  readonly chart: DensityChart | null;
  /** Which grade names apply: in Canada and Ontario only a federal licence permits one (grade-statement.ts). */
  readonly gradeNames: 'US' | 'CA' | 'QC' | 'ON';
  readonly labels: readonly LabelItem[];
  /** Allergens that the place requires to be named, in its own terms and languages; absent in hand-made rules. */
  readonly allergens?: PlaceAllergens | undefined;
  /** Lead in syrup above which the place acts; null where no limit was found in a source. */
  readonly lead?: (Sourced & { readonly ppb: number }) | null | undefined;
  /** Licences, registrations and thresholds; absent in hand-made rules. */
  readonly applies?: readonly AppliesHere[] | undefined;
  /** What was searched for and not found: shown on the page, never guessed. */
  readonly notFound: readonly string[];
  /** Why these rules are used in place of the place's own, where they are a fallback. */
  readonly fellBack: string | null;
}

/** The rules for a container of this size: a drum may have its own limits, and the chart is for the retail density. */
export function rulesInContainer(place: PlaceRules, millilitres: number): PlaceRules {
  const { bulk } = place;
  if (!bulk || millilitres <= bulk.aboveMillilitres) return place;
  const { minimumBrix, maximumBrix, lead } = bulk;
  return { ...place, minimumBrix, standInMinimumBrix: null, maximumBrix, lead, chart: null };
}

/**
 * The least density for a container of this size: the place's own where it may hold a lot, else the substitute; where
 * neither may, the place's own, as an advisory.
 */
export function judgedMinimum(place: PlaceRules, millilitres: number): DensityLimit {
  const { minimumBrix, standInMinimumBrix } = rulesInContainer(place, millilitres);
  return [minimumBrix, standInMinimumBrix].find((limit) => limit?.gates) ?? minimumBrix;
}

/**
 * The place's own least density applies once the maker has confirmed it with the authority; the substitute limit and
 * its chart are dropped.
 */
export function confirmedRules(place: PlaceRules, confirmation: string): PlaceRules {
  const { minimumBrix } = place;
  if (minimumBrix.gates) return place;
  const source = `${minimumBrix.source}; confirmed by the maker with ${confirmation}`;
  return { ...place, minimumBrix: { ...minimumBrix, source, gates: true }, standInMinimumBrix: null, chart: null };
}

/**
 * The chart's reading at a sample temperature: interpolated between its rows, and extrapolated above the hottest.
 * Undefined below the coldest row, and in °Bé where only °Bx is printed.
 */
export function chartReadingAt(chart: DensityChart, celsius: number, scale: ChartScale = 'Bx'): number | undefined {
  const fahrenheit = (celsius * 9) / 5 + 32;
  const rows = chart.rows.flatMap((row) => {
    const reading = scale === 'Bx' ? row.brix : row.baume;
    return reading === undefined ? [] : [{ fahrenheit: row.fahrenheit, reading }];
  });
  // A row gives its own number, not one that interpolation leaves slightly above it.
  const exact = rows.find((row) => Math.abs(row.fahrenheit - fahrenheit) < 1e-9);
  if (exact) return exact.reading;
  const below = rows.findIndex((row) => row.fahrenheit < fahrenheit);
  if (below < 0) return undefined;
  const hotter = rows[Math.max(below, 1) - 1];
  const colder = rows[Math.max(below, 1)];
  if (!hotter || !colder) return undefined;
  const part = (fahrenheit - colder.fahrenheit) / (hotter.fahrenheit - colder.fahrenheit);
  return colder.reading + part * (hotter.reading - colder.reading);
}

/**
 * The least reading that passes by the chart: interpolated between rows, or that rounded to 0.1 if it is less, since a
 * chart can't be read more precisely. It never rises with the temperature.
 */
export function chartMinimum(chart: DensityChart, celsius: number, scale: ChartScale = 'Bx'): number | undefined {
  const reading = chartReadingAt(chart, celsius, scale);
  return reading === undefined ? undefined : Math.min(reading, Math.round(reading * 10 + 1e-6) / 10);
}

/** The coldest row's own number: at colder temperatures the chart would require at least as much. */
export function coldestChartReading(chart: DensityChart, scale: ChartScale = 'Bx'): number | undefined {
  const coldest = chart.rows.at(-1);
  return scale === 'Bx' ? coldest?.brix : coldest?.baume;
}
