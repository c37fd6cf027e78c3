import type { JarSpan } from '#libs/syrup/jars/held-jars.js';
import type { Deviation, VerdictChange } from './deviation.js';
import { type Risk, risksOf } from './risks.js';
import { seasonChanges, seasonDeviations, seasonTotals, type SeasonTotals } from './totals.js';
import { type Unrecorded, unrecorded } from './unrecorded.js';
import type { DensityJudged, LotFinding, SeasonLot, SentTo, SyrupSource } from './lot.js';
import type { ColourName, LotStatus } from './lot.js';
import type { RecordRoot, Season } from './season.js';

/** The season as others script against it: names, order and nulls are kept. */
export interface SeasonSummary {
  readonly year: number;
  readonly lots: readonly SummaryLine[];
  readonly totals: SeasonTotals;
  readonly record: RecordRoot;
  readonly deviations: readonly Deviation[];
  readonly corrections: readonly VerdictChange[];
  readonly risks: readonly Risk[];
  readonly notRecorded: readonly Unrecorded[];
}

export interface SummaryLine {
  readonly lot: string;
  readonly boils: readonly string[];
  readonly packedAt: string;
  readonly container: string;
  readonly jarsMade: number;
  readonly jarsOnHand: number;
  readonly jarsSentOut: number;
  readonly jarsReturned: number;
  readonly jarsDestroyed: number;
  readonly jarsOther: number;
  readonly unaccounted: number | null;
  readonly lowestFillF: number | null;
  readonly lowestFillTyped: string | null;
  readonly brix: number | null;
  readonly colour: ColourName | null;
  readonly syrupLitres: number;
  readonly status: LotStatus;
  readonly lateEntries: number;
  readonly findings: readonly LotFinding[];
  readonly product: string | null;
  readonly boiled: readonly SyrupSource[];
  readonly lowestFillBy: string | null;
  readonly fillsReplaced: readonly string[];
  readonly uncoveredJars: readonly JarSpan[];
  readonly densityJudged: DensityJudged | null;
  readonly allergens: string;
  readonly sealsFailed: number | null;
  /** What `jarsOther` is made of: `2 kept, 1 broken`. */
  readonly otherAs: string;
  /** Sold, given, returned and the rest, by place. */
  readonly sentTo: readonly SentTo[];
  readonly by: string;
}

/** The summary as a value for `JSON.stringify`. */
export function seasonSummary(season: Season): SeasonSummary {
  return {
    year: season.year,
    lots: season.lots.map(summaryLine),
    totals: seasonTotals(season),
    record: { entries: season.record.entries, root: season.record.root },
    deviations: seasonDeviations(season),
    corrections: seasonChanges(season),
    risks: risksOf(season),
    notRecorded: unrecorded(season),
  };
}

/** The summary as the text of a file, with a line end. */
export const seasonJson = (season: Season): string => JSON.stringify(seasonSummary(season), null, 2) + '\n';

function summaryLine(lot: SeasonLot): SummaryLine {
  return {
    lot: lot.lot,
    boils: lot.boils,
    packedAt: lot.packedAt,
    container: lot.container,
    jarsMade: lot.jarsMade,
    jarsOnHand: lot.jarsOnHand,
    jarsSentOut: lot.jarsSentOut,
    jarsReturned: lot.jarsReturned,
    jarsDestroyed: lot.jarsDestroyed,
    jarsOther: lot.jarsOther,
    unaccounted: lot.unaccounted,
    lowestFillF: lot.lowestFillF,
    lowestFillTyped: lot.lowestFillTyped,
    brix: lot.brix,
    colour: lot.colour,
    syrupLitres: lot.syrupLitres,
    status: lot.status,
    lateEntries: lot.lateEntries.length,
    findings: lot.findings,
    product: lot.product,
    boiled: lot.boiled,
    lowestFillBy: lot.lowestFillBy,
    fillsReplaced: lot.fills.filter((fill) => fill.replaced).map(({ reading }) => reading.typed),
    uncoveredJars: lot.uncoveredJars,
    densityJudged: lot.densityJudged,
    allergens: lot.allergensSaid,
    sealsFailed: lot.sealsFailed,
    otherAs: lot.otherWords,
    sentTo: lot.sentTo,
    by: lot.by,
  };
}
