import type { Deviation, VerdictChange } from './deviation.js';
import type { HistoryLine, LateEntry, LotFinding, LotInput, LotStatus, Reading } from './lot.js';

/** Data of sap gathered, boiled, drawn, sent and counted. Ids and codes are those of the book. */
export interface Gathering {
  readonly id: string;
  readonly gatheredAt: string;
  readonly source: string;
  readonly volumeTyped: string;
  readonly millilitres: number;
  readonly readings: readonly Reading[];
  readonly condition: string | null;
  /** The ticked handling steps as text, and how much was thrown out. */
  readonly handling?: string | null;
  readonly thrownOutTyped?: string | null;
  readonly by: string | null;
}

/** Bought or a neighbour's sap or syrup. */
export interface Receipt {
  readonly id: string;
  readonly supplier: string;
  readonly contact: string;
  readonly theirLot: string | null;
  readonly volumeTyped: string;
  readonly millilitres: number;
  readonly densityTyped: string | null;
  readonly receivedAt: string;
  readonly by: string | null;
}

export interface SeasonBoil {
  readonly lot: string;
  readonly beganAt: string;
  readonly finishedAt: string | null;
  /** Gatherings and receipts with the volume of each. */
  readonly inputs: readonly LotInput[];
  readonly carriedFrom: readonly LotInput[];
  /** The sap as measured at the boil; null where only the gatherings have volumes (`sapBoiled`). */
  readonly sapVolumeTyped: string | null;
  readonly sapMillilitres: number | null;
  readonly sapSugarTyped: string | null;
  readonly readings: readonly Reading[];
  readonly filterMedium: string | null;
  readonly defoamer: string | null;
  readonly defoamerAllergens: string | null;
  readonly restedFrom: string | null;
  readonly restedUntil: string | null;
  /** `not recorded yet` while the boil is in progress. */
  readonly syrupVolumeTyped: string;
  readonly syrupMillilitres: number;
  readonly by: string;
  readonly note: string | null;
  readonly history: readonly HistoryLine[];
  readonly status: LotStatus;
  readonly findings: readonly LotFinding[];
  readonly deviations: readonly Deviation[];
  readonly verdictChanges: readonly VerdictChange[];
  readonly lateEntries: readonly LateEntry[];
  /** Temperatures of its log, in order, as typed: for the pan chart. */
  readonly panLog: readonly Reading[];
}

export interface Draw {
  readonly id: string;
  readonly boil: string;
  readonly drawnAt: string;
  readonly volumeTyped: string;
  readonly millilitres: number;
  readonly readings: readonly Reading[];
  readonly filterMedium: string | null;
  readonly vessel: string | null;
  readonly by: string | null;
}

/** Sap or syrup that went into no jar: used at home, thrown out, spilt, or lost in cooling. */
export interface Disposal {
  readonly id: string;
  readonly lot: string;
  readonly how: string;
  readonly volumeTyped: string;
  readonly millilitres: number;
  readonly at: string;
  readonly why: string | null;
  readonly by: string | null;
}

export type DispatchKind = 'sale' | 'gift' | 'sample' | 'kept' | 'retained' | 'broken' | 'destroyed' | 'returned';

export interface Dispatch {
  readonly id: string;
  readonly lot: string;
  readonly jars: number;
  /** Codes where it was sent jar by jar; empty for a dispatch by count. */
  readonly jarCodes: readonly string[];
  readonly sentAt: string;
  readonly to: string;
  /** The kind it counts as; sent out where the record has none. */
  readonly kind: DispatchKind;
  /** The kind as recorded; null where it was left blank, which is not taken for a sale. */
  readonly how: string | null;
  readonly contact: string | null;
  readonly telephone?: string | null;
  readonly by: string | null;
  /** Recorded after the jars had left, though the lot might not be sent out. */
  readonly alreadyLeft?: boolean;
  /** A sample for a laboratory: nobody eats it. */
  readonly laboratory?: boolean;
  /** Later than the document's time: a plan, never counted. */
  readonly planned: boolean;
}

export interface CountRecord {
  readonly id: string;
  readonly lot: string;
  readonly jars: number;
  readonly countedAt: string;
  readonly by: string | null;
}
