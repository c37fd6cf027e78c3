/** What the generator expects of a season, computed without the program. */
export interface Invented {
  /** CSV text by kind, in import order. */
  readonly files: readonly { readonly kind: string; readonly text: string; readonly rows: number }[];
  readonly lots: readonly ExpectedLot[];
  readonly totals: { boils: number; packs: number; jarsMade: number; syrupGallons: number; held: number };
  /** The time at which the season is read. */
  readonly now: Date;
  readonly year: number;
}

export interface ExpectedLot {
  readonly lot: string;
  readonly boils: readonly string[];
  readonly packedAt: string;
  readonly container: string;
  readonly jarsMade: number;
  readonly jarsOnHand: number;
  readonly jarsSentOut: number;
  readonly jarsDestroyed: number;
  readonly jarsOther: number;
  readonly unaccounted: number | null;
  readonly lowestFillTyped: string | null;
  readonly brix: number | null;
  /** The precision of the generator's own figure: between published pairs, a tenth. */
  readonly brixWithin: number;
  readonly colour: string | null;
  readonly status: 'open' | 'held';
  /** Sorted names of the rules that hold it. */
  readonly stops: readonly string[];
  /** A rest during the night the clocks went forward, or another short one. */
  readonly shortRest: boolean;
}

export interface Boil {
  code: string;
  ownId: string;
  beganAt: string;
  row: Record<string, string>;
  syrupQuarts: number;
  leftQuarts: number;
  carriedFrom: Boil | undefined;
  /** A defoamer whose allergens were not recorded. */
  unanswered: boolean;
  shortRest: boolean;
}

export interface Source {
  readonly boil?: Boil;
  readonly receipt?: string;
  readonly pack?: Pack;
  readonly typed: string;
  readonly millilitres: number;
}

export interface Pack {
  code: string;
  ownId: string;
  packedAt: string;
  sources: Source[];
  container: Container;
  row: Record<string, string>;
  jars: number;
  stops: Set<string>;
  lowestFill: string | null;
  brix: number | null;
  brixWithin: number;
  colour: string | null;
  moves: { readonly at: string; readonly kind: string; readonly jars: number }[];
  count: { readonly at: string; readonly jars: number } | undefined;
  missing: number;
  pouredBack: number;
}

export interface Container {
  readonly typed: string;
  readonly millilitres: number;
}

// NIST Handbook 44, appendix C: the US gallon is 231 cubic inches, a quart a quarter, a pint an eighth, 128 fl oz.
export const quart = 946.352946;
export const containers: readonly Container[] = [
  { typed: 'glass jar 8 fl oz', millilitres: quart / 4 },
  { typed: 'glass jar 1 pt', millilitres: quart / 2 },
  { typed: 'plastic jug 32 fl oz', millilitres: quart },
  { typed: 'metal can 500 mL', millilitres: 500 },
  { typed: 'glass bottle, maple leaf 250mL', millilitres: 250 },
];

/** The day of the year from 1 January, in a common year. */
export const dayOfYear = (date: string): number => {
  const before = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];
  return before[Number(date.slice(5, 7)) - 1]! + Number(date.slice(8, 10));
};

/** The date some days after 1 March 2026. */
export function marchDay(day: number): string {
  const months = [31, 30, 31, 30, 31, 31];
  let left = day;
  let month = 0;
  for (; left >= months[month]!; month++) left -= months[month]!;
  return `2026-${String(3 + month).padStart(2, '0')}-${String(left + 1).padStart(2, '0')}`;
}

/** Harrow Notch uses Eastern time: the clocks of 2026 go forward on 8 March at 2:00 (US law, second Sunday). */
export const withOffset = (local: string): string => `${local}:00-0${local < '2026-03-08T02:00' ? 5 : 4}:00`;

/** A–W without I and O, then AA, AB … */
export function letter(nth: number): string {
  const letters = 'ABCDEFGHJKLMNPQRSTUVW';
  return nth < 21 ? letters[nth]! : `${letters[Math.floor(nth / 21) - 1]!}${letters[nth % 21]!}`;
}

/** Minutes since midnight as a clock time. */
export const clock = (minutes: number): string =>
  `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
