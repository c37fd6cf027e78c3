export type ColourName = 'Golden' | 'Amber' | 'Dark' | 'Very Dark';
export type LotStatus = 'open' | 'held' | 'released' | 'recalled';

/** A pack of the season with all that was read, found and done about it. The first part is the line of the summary. */
export interface SeasonLot {
  readonly lot: string;
  /** Codes of every boil upstream. */
  readonly boils: readonly string[];
  /** When the boils upstream began, in order, ISO. */
  readonly boiledAt: readonly string[];
  readonly packedAt: string;
  /** As written: `glass jar 8 fl oz`. */
  readonly container: string;
  readonly containerMillilitres: number;
  readonly jarsMade: number;
  readonly jarsOnHand: number;
  readonly jarsSentOut: number;
  readonly jarsDestroyed: number;
  /** Kept, retained, samples and broken. */
  readonly jarsOther: number;
  /** Null until jars are counted. */
  readonly unaccounted: number | null;
  readonly lowestFillF: number | null;
  readonly lowestFillTyped: string | null;
  /** True °Bx at 20 °C rounded to 0.1, as judged. */
  readonly brix: number | null;
  readonly brixUncertainty: number | null;
  readonly colour: ColourName | null;
  readonly syrupLitres: number;
  readonly status: LotStatus;
  readonly findings: readonly LotFinding[];

  /** Lots poured into this pack: boils, packs or receipts. */
  readonly inputs: readonly LotInput[];
  /** Every reading in the order taken, as typed. */
  readonly readings: readonly Reading[];
  readonly containerPrep: string | null;
  readonly sealsFailed: number | null;
  readonly sealsOutcome: string | null;
  readonly transmittancePercent: number | null;
  readonly clarity: string | null;
  readonly offFlavour: string | null;
  readonly allergens: readonly string[];
  readonly note: string | null;
  readonly by: string;
  /** Where its jars went, summed by place and kind; sales first. */
  readonly sentTo: readonly SentTo[];
  readonly lateEntries: readonly LateEntry[];
  readonly history: readonly HistoryLine[];
  readonly correctiveActions: readonly CorrectiveAction[];
  /** Why it is held or recalled, in a sentence; null where it is neither. */
  readonly statusWhy: string | null;
  /** Who let it go and when, where it was released. */
  readonly released: { readonly by: string; readonly at: string; readonly why: string } | null;
  /** When the last count was made, or null. */
  readonly countedAt: string | null;
}

/** A finding as it was judged; `words` are the limit and what was found. */
export interface LotFinding {
  readonly rule: string;
  readonly stop: boolean;
  readonly limit: string;
  readonly found: string;
  readonly source: string;
}

/** Whether a rule of this matter, such as `fill` or `density`, stopped the lot: `fill-temperature`, `density-too-thin`. */
export const stoppedBy = (lot: SeasonLot, matter: string): boolean =>
  lot.findings.some((finding) => finding.stop && finding.rule.startsWith(`${matter}-`));

export interface LotInput {
  readonly code: string;
  readonly volumeTyped: string;
  readonly millilitres: number;
}

export type ReadingKind =
  | 'sap sugar'
  | 'sap temperature'
  | 'water boils'
  | 'finish'
  | 'filter'
  | 'draw'
  | 'hot pack'
  | 'fill'
  | 'density'
  | 'density sample'
  | 'transmittance';

/** One reading as it was typed, and the number it stands for in the unit it was read in. */
export interface Reading {
  readonly kind: ReadingKind;
  readonly typed: string;
  /** `F`, `C`, `Bx`, `Be`, `SG` or `%`. */
  readonly unit: string;
  readonly number: number;
  /** For temperatures; null for the rest. */
  readonly celsius: number | null;
  readonly takenAt: string | null;
  /** The instrument's own id, such as `T1`. */
  readonly instrument: string | null;
  readonly by: string | null;
  /** True where an instrument was later found out of tolerance. */
  readonly inDoubt: boolean;
}

export interface SentTo {
  readonly place: string;
  readonly kind: string;
  readonly jars: number;
}

/** Something typed well after it happened. */
export interface LateEntry {
  readonly field: string;
  readonly happenedAt: string;
  readonly typedAt: string;
  readonly hoursLate: number;
}

/** A line of the ledger about this lot; a correction carries the value struck through and the new one. */
export interface HistoryLine {
  readonly entry: number;
  readonly at: string;
  readonly by: string;
  readonly kind: 'written' | 'corrected' | 'held' | 'acted' | 'released' | 'recalled' | 'printed' | 'counted';
  readonly words: string;
  readonly field: string | null;
  readonly was: string | null;
  readonly now: string | null;
  readonly why: string | null;
}

export interface CorrectiveAction {
  readonly at: string;
  readonly by: string;
  readonly found: string;
  readonly done: string;
  readonly readings: readonly Reading[];
}
