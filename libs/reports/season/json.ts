import type { Deviation, VerdictChange } from './deviation.js';
import { verdictForScripts } from './field-changes.js';
import { type Risk, risksOf } from './risks.js';
import { seasonChanges, seasonDeviations, seasonTotals, type SeasonTotals } from './totals.js';
import { type Unrecorded, unrecorded } from './unrecorded.js';
import type { SeasonLot } from './lot.js';
import type { RecordRoot, Season } from './season.js';

/** The season in the format that scripts rely on: names, order and nulls don't change. */
export interface SeasonSummary {
  readonly year: number;
  readonly lots: readonly ReturnType<typeof summaryLine>[];
  readonly totals: SeasonTotals;
  readonly record: RecordRoot;
  readonly deviations: readonly Deviation[];
  readonly corrections: readonly ReturnType<typeof correctionLine>[];
  readonly risks: readonly Risk[];
  readonly notRecorded: readonly Unrecorded[];
}

/** The summary as a value for `JSON.stringify`. */
export function seasonSummary(season: Season): SeasonSummary {
  return {
    year: season.year,
    lots: season.lots.map(summaryLine),
    totals: seasonTotals(season),
    record: { entries: season.record.entries, root: season.record.root },
    deviations: seasonDeviations(season),
    corrections: seasonChanges(season).map(correctionLine),
    risks: risksOf(season),
    notRecorded: unrecorded(season),
  };
}

/** The summary as file text, with a final newline. */
export const seasonJson = (season: Season): string => JSON.stringify(seasonSummary(season), null, 2) + '\n';

const correctionLine = (change: VerdictChange) => ({
  ...change,
  before: verdictForScripts(change.before),
  after: verdictForScripts(change.after),
});

/**
 * One lot. A field of the pack that only has to be shown is declared `inSummary` in its table; a derived value is a
 * line here and one in `lot.ts`, and the API describes it in `answers/season-answer.ts`.
 */
function summaryLine(lot: SeasonLot) {
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
    // The parts of `jarsOther`: `2 kept, 1 broken`.
    otherAs: lot.otherText,
    // Sold, given, returned and the rest, by destination.
    sentTo: lot.sentTo,
    by: lot.by,
    ...declaredKeys(lot),
  };
}

/**
 * Typed as an empty object, so that the names above keep their types; the API describes these keys from the same
 * declaration.
 */
const declaredKeys = ({ declared = [] }: SeasonLot): Readonly<Record<never, never>> =>
  Object.fromEntries(declared.map(({ name, text }) => [name, text]));
