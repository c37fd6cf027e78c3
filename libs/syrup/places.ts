/**
 * The rules of a place, as data from templates/places. Every number stands beside its source and how
 * far that source was seen: `read`, `second hand`, `worked`, `memory`, or `practice` of the trade.
 */
export type Mark = 'read' | 'second hand' | 'worked' | 'memory' | 'practice';

export interface Sourced {
  readonly source: string;
  readonly mark: Mark;
}

export interface DensityLimit extends Sourced {
  /** °Bx, true mass percent at 20 °C. */
  readonly value: number;
  /** The published °Bé equal to it: a °Bé reading is judged against this, never converted and compared. */
  readonly baume: number;
  readonly baumeSource: string;
  /** A limit that doesn't gate only advises, until the maker has confirmed it with the authority. */
  readonly gates: boolean;
}

/** What a Brix hydrometer reads in syrup of just the least density, by the temperature of the sample. */
export interface DensityChart extends Sourced {
  readonly standardBrix: number;
  readonly calibratedAtFahrenheit: number;
  /** Hottest first. */
  readonly rows: readonly { readonly fahrenheit: number; readonly brix: number }[];
}

export interface LabelItem extends Sourced {
  readonly item: string;
  /** `product`, `grade`, `net-quantity`, `maker`, `address`, `lot-code` … : what the label must carry. */
  readonly carries: string;
  /** Asked only of containers larger than this. */
  readonly aboveMillilitres?: number | undefined;
}

export interface PlaceRules {
  readonly id: string;
  readonly name: string;
  /** The standard that judges, in words. */
  readonly standard: string;
  readonly rulesVersion: string;
  readonly country: 'US' | 'CA';
  /** Canadian units (no bare gallons), Canadian grade names, both languages on the label. */
  readonly canada: boolean;
  readonly authority: readonly { readonly name: string; readonly ask: string }[];
  readonly minimumBrix: DensityLimit;
  /** Judges in the place of `minimumBrix` while that one doesn't gate. */
  readonly standInMinimumBrix: DensityLimit | null;
  readonly maximumBrix: DensityLimit | null;
  readonly chart: DensityChart | null;
  readonly gradeNames: 'US' | 'CA';
  readonly labels: readonly LabelItem[];
  /** What was looked for and not found: said on the page, never guessed. */
  readonly notFound: readonly string[];
  /** Why these rules and not the place's own, when they were fallen back to. */
  readonly fellBack: string | null;
}

/**
 * The reading that just passes at a sample temperature, linear between the chart's rows.
 * Undefined outside them: there the chart says nothing.
 */
export function chartReadingAt(chart: DensityChart, celsius: number): number | undefined {
  const fahrenheit = (celsius * 9) / 5 + 32;
  const rows = chart.rows;
  const exact = rows.find((row) => Math.abs(row.fahrenheit - fahrenheit) < 1e-9);
  if (exact) return exact.brix;
  const below = rows.findIndex((row) => row.fahrenheit < fahrenheit);
  const hotter = rows[below - 1];
  const colder = rows[below];
  if (!hotter || !colder) return undefined;
  const part = (fahrenheit - colder.fahrenheit) / (hotter.fahrenheit - colder.fahrenheit);
  return colder.brix + part * (hotter.brix - colder.brix);
}
