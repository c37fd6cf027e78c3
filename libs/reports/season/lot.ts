import type { Signatures } from '#libs/records/signatures.js';
import type { JarSpan } from '#libs/syrup/jars/jar-spans.js';
import type { Deviation, VerdictChange } from './deviation.js';

export type ColourName = 'Golden' | 'Amber' | 'Dark' | 'Very Dark';
export type LotStatus = 'open' | 'held' | 'released' | 'recalled';

/** A pack of the season with all readings, findings and actions. The first part is its row in the summary. */
export interface SeasonLot {
  readonly lot: string;
  /** Codes of every boil upstream. */
  readonly boils: readonly string[];
  /** The boils and bought lots whose syrup was poured into the jars, in order; without what was left in pans. */
  readonly boiled: readonly SyrupSource[];
  readonly packedAt: string;
  /** The maker's own GTIN, from its most recent labels; absent where they had none. */
  readonly gtin?: string;
  /** As typed; null is pure maple syrup, or a book older than the field. */
  readonly product: string | null;
  /** As typed: `glass jar 8 fl oz`. */
  readonly container: string;
  readonly containerMillilitres: number;
  readonly jarsMade: number;
  readonly jarsOnHand: number;
  /** Sold and given, less returns. */
  readonly jarsSentOut: number;
  /** All returns, for information: already subtracted from `jarsSentOut`. */
  readonly jarsReturned: number;
  readonly jarsDestroyed: number;
  /** Retained, samples, broken, poured back. */
  readonly jarsOther: number;
  /** The parts of `jarsOther`, without zeros: `2 kept, 1 broken`. */
  readonly otherText: string;
  /** Null until jars are counted. */
  readonly unaccounted: number | null;
  /** The coldest reading, as capped, that still applies to a jar: one that a corrective action replaced doesn't. */
  readonly lowestFillF: number | null;
  readonly lowestFillTyped: string | null;
  /** The thermometer that read it; null where the reading names none. */
  readonly lowestFillBy: string | null;
  /** Every fill reading of the pack and of its corrective actions, in order. */
  readonly fills: readonly FillStatus[];
  /** Jars that no fill reading covers (a reading covers those since the one before); empty where all are covered. */
  readonly uncoveredJars: readonly JarSpan[];
  /** The density reading that was judged; null where there was none, or it was read before the last boil-up. */
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
  /** Corrections that changed its verdict. */
  readonly verdictChanges: readonly VerdictChange[];

  /** Lots poured into this pack: boils, packs or receipts. */
  readonly inputs: readonly LotInput[];
  /** Every reading in the order taken, as typed. */
  readonly readings: readonly Reading[];
  readonly containerPrep: string | null;
  /** The steps that were ticked, as text; null where none was. */
  readonly atTheBench?: string | null;
  readonly sealsFailed: number | null;
  readonly sealsOutcome: string | null;
  readonly transmittancePercent: number | null;
  readonly clarity: string | null;
  readonly offFlavour: string | null;
  readonly allergens: readonly string[];
  /** `milk`, `none`, or `not recorded` where a boil's defoamer or its allergens were left blank. */
  readonly allergensSaid: string;
  /** Further fields of the pack declared for the summary, in the order of its table. */
  readonly declared?: readonly DeclaredText[];
  readonly note: string | null;
  readonly by: string;
  /** Where its jars went, summed by destination and kind; sales first. */
  readonly sentTo: readonly SentTo[];
  readonly lateEntries: readonly LateEntry[];
  readonly history: readonly HistoryLine[];
  readonly correctiveActions: readonly CorrectiveAction[];
  /** Why it is held or recalled, in a sentence; null where it is neither. */
  readonly statusWhy: string | null;
  /** Who released it and when. */
  readonly released: { readonly by: string; readonly at: string; readonly why: string } | null;
  /** Who filled, released and verified it, and whether that was one person; absent where they were not read. */
  readonly signatures?: Signatures;
  /** When the jars were last counted, or null. */
  readonly countedAt: string | null;
}

/** A field that the kind's table declares for the summary; null where the record leaves it blank. */
export interface DeclaredText {
  readonly name: string;
  readonly label: string;
  readonly text: string | null;
}

/** A finding as judged; `words` are the limit and what was found. */
export interface LotFinding {
  readonly rule: string;
  readonly stop: boolean;
  readonly limit: string;
  readonly found: string;
  readonly source: string;
  /** The jars that it holds, as text, where it doesn't hold the whole lot. */
  readonly jars?: string | null;
  /** What clears the hold, in a sentence. */
  readonly wayOut?: string | null;
  /** Why a release accepted it, and the answer of an authority where one was asked. */
  readonly accepted?: string;
  /** How every jar went off sale, where nobody released the lot for it. */
  readonly offSale?: string;
}

/** A boil or a receipt whose syrup is in the jars. `at` is when the boil began, or the syrup was received. */
export interface SyrupSource {
  readonly code: string;
  readonly kind: 'boil' | 'receipt';
  readonly at: string;
}

/** A fill reading, and whether it still applies to any jar. */
export interface FillStatus {
  readonly reading: Reading;
  /** Read again for a corrective action. */
  readonly again: boolean;
  /** Too cold, and its jars were read again after an action; or its jar was poured back. */
  readonly replaced: boolean;
}

export interface DensityJudged {
  readonly typed: string;
  readonly sampleTyped: string | null;
  /** hydrometer, refractometer … ; null where it was not recorded. */
  readonly by: string | null;
  /** Read again for a corrective action: the pack's own reading was not the one judged. */
  readonly again: boolean;
}

/** Whether a rule of this group, such as `fill` or `density`, held the lot: `fill-temperature`, `density-too-thin`. */
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

/** One reading as typed, and its number in the unit it was read in. */
export interface Reading {
  readonly kind: ReadingKind;
  readonly typed: string;
  /** `F`, `C`, `Bx`, `Be`, `SG` or `%`. */
  readonly unit: string;
  readonly number: number;
  /** For temperatures; otherwise null. */
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

/** An entry typed well after it happened. */
export interface LateEntry {
  readonly field: string;
  readonly happenedAt: string;
  readonly typedAt: string;
  readonly hoursLate: number;
}

/** A line of this lot's history; a correction has the old value, struck through, and the new one. */
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
  /** Its jars, as typed, and the cause found; null where neither was recorded. */
  readonly jars: string | null;
  readonly cause: string | null;
  readonly found: string;
  readonly done: string;
  readonly readings: readonly Reading[];
}
