import type { Signatures } from '#libs/records/signatures.js';
import type { JarSpan } from '#libs/syrup/jars/held-jars.js';
import type { Deviation, VerdictChange } from './deviation.js';

export type ColourName = 'Golden' | 'Amber' | 'Dark' | 'Very Dark';
export type LotStatus = 'open' | 'held' | 'released' | 'recalled';

/** A pack of the season with all that was read, found and done about it. The first part is the line of the summary. */
export interface SeasonLot {
  readonly lot: string;
  /** Codes of every boil upstream. */
  readonly boils: readonly string[];
  /** The boils and bought lots whose syrup was poured into the jars, in order; what was left in pans is not among them. */
  readonly boiled: readonly SyrupSource[];
  readonly packedAt: string;
  /** The maker's own GTIN, as its labels last carried it; absent where they carried none. */
  readonly gtin?: string;
  /** As written; null is pure maple syrup, or a book older than the field. */
  readonly product: string | null;
  /** As written: `glass jar 8 fl oz`. */
  readonly container: string;
  readonly containerMillilitres: number;
  readonly jarsMade: number;
  readonly jarsOnHand: number;
  /** Sold and given, less returns. */
  readonly jarsSentOut: number;
  /** All returns, for information: already subtracted from what was sent out. */
  readonly jarsReturned: number;
  readonly jarsDestroyed: number;
  /** Kept, retained, samples, broken, poured back. */
  readonly jarsOther: number;
  /** What `jarsOther` is made of, only what there is: `2 kept, 1 broken`. */
  readonly otherText: string;
  /** Null until jars are counted. */
  readonly unaccounted: number | null;
  /** The coldest reading, as capped, of the jars that stand: one that a corrective action replaced is not among them. */
  readonly lowestFillF: number | null;
  readonly lowestFillTyped: string | null;
  /** The thermometer it was read with; null where the reading names none. */
  readonly lowestFillBy: string | null;
  /** Every fill reading of the pack and of its corrective actions, in order. */
  readonly fills: readonly FillStanding[];
  /** Jars that no fill reading covers: from the reading before to its own; empty where each is covered. */
  readonly uncoveredJars: readonly JarSpan[];
  /** The density reading that was judged; null where none was, or it was read before the last boil-up. */
  readonly densityJudged: DensityJudged | null;
  /** True °Bx at 20 °C rounded to 0.1, as judged. */
  readonly brix: number | null;
  readonly brixUncertainty: number | null;
  readonly colour: ColourName | null;
  readonly syrupLitres: number;
  readonly status: LotStatus;
  readonly findings: readonly LotFinding[];
  /** Hold rules broken, holds by hand and recalls, from first to last. */
  readonly deviations: readonly Deviation[];
  /** Corrections after which it was judged otherwise. */
  readonly verdictChanges: readonly VerdictChange[];

  /** Lots poured into this pack: boils, packs or receipts. */
  readonly inputs: readonly LotInput[];
  /** Every reading in the order taken, as typed. */
  readonly readings: readonly Reading[];
  readonly containerPrep: string | null;
  /** The steps that were ticked, as text; null where nothing was. */
  readonly atTheBench?: string | null;
  readonly sealsFailed: number | null;
  readonly sealsOutcome: string | null;
  readonly transmittancePercent: number | null;
  readonly clarity: string | null;
  readonly offFlavour: string | null;
  readonly allergens: readonly string[];
  /** `milk`, `none`, or `not recorded` where a boil's defoamer or its allergens were left blank. */
  readonly allergensSaid: string;
  /** Further fields of the pack that ask to be in the summary, in the order of its table. */
  readonly declared?: readonly DeclaredText[];
  readonly note: string | null;
  readonly by: string;
  /** Where its jars went, summed by place and kind; sales first. */
  readonly sentTo: readonly SentTo[];
  readonly lateEntries: readonly LateEntry[];
  readonly history: readonly HistoryLine[];
  readonly correctiveActions: readonly CorrectiveAction[];
  /** Why it is held or recalled, in a sentence; null where it is neither. */
  readonly statusWhy: string | null;
  /** Who released it and when. */
  readonly released: { readonly by: string; readonly at: string; readonly why: string } | null;
  /** Who filled, released and verified it, and whether that was one person; absent where nobody asked. */
  readonly signatures?: Signatures;
  /** When the last count was made, or null. */
  readonly countedAt: string | null;
}

/** A field that the kind's table declares for the summary; null where the record leaves it blank. */
export interface DeclaredText {
  readonly name: string;
  readonly label: string;
  readonly text: string | null;
}

/** A finding as it was judged; `words` are the limit and what was found. */
export interface LotFinding {
  readonly rule: string;
  readonly stop: boolean;
  readonly limit: string;
  readonly found: string;
  readonly source: string;
  /** The jars that it holds, in words, where it doesn't hold the whole lot. */
  readonly jars?: string | null;
  /** What ends the hold, in a sentence. */
  readonly wayOut?: string | null;
  /** Why a release accepted it, and what an authority answered where one was asked. */
  readonly accepted?: string;
}

/** A boil or a receipt whose syrup is in the jars. `at` is when the boil began, or the syrup was received. */
export interface SyrupSource {
  readonly code: string;
  readonly kind: 'boil' | 'receipt';
  readonly at: string;
}

/** A fill reading, and whether it still counts for any jar. */
export interface FillStanding {
  readonly reading: Reading;
  /** Read again by a corrective action. */
  readonly again: boolean;
  /** Too cold, and read again after the jars were seen to; or its jar was poured back. */
  readonly replaced: boolean;
}

export interface DensityJudged {
  readonly typed: string;
  readonly sampleTyped: string | null;
  /** hydrometer, refractometer … ; null where it was not recorded. */
  readonly by: string | null;
  /** Read again by a corrective action: the reading of the pack itself was not the one judged. */
  readonly again: boolean;
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
  | 'pan'
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
  readonly isSuspect: boolean;
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

/** A line of this lot's history; a correction carries the value struck through and the new one. */
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
  /** The jars it was of, as typed, and the cause found; null where neither was recorded. */
  readonly jars: string | null;
  readonly cause: string | null;
  readonly found: string;
  readonly done: string;
  readonly readings: readonly Reading[];
}
