import type { LotState } from '#libs/records/entry.js';
import type { Dispatch } from '../season/flow.js';
import type { House, Person, RecordRoot } from '../season/season.js';

/** The data of a recall document: the lots it reaches, where each jar went, and whom to call. */
export interface Recall {
  /** The code the trace started from: a boil, a pack, a gathering or a receipt. */
  readonly from: string;
  readonly why: string;
  /** As recorded with the recall; null where it was left blank. */
  readonly hazard: RecallHazard;
  /** Calls made, oldest first. */
  readonly callsMade: readonly CallMade[];
  /** When the recall was declared; null where the lots are not recalled and the list only shows what one would reach. */
  readonly startedAt: string | null;
  /** The packs on the list that are not recalled: all of them where nothing is. */
  readonly notRecalled: readonly string[];
  readonly by: string;
  /** A mock recall is marked on every page. */
  readonly practice: boolean;
  readonly house: House;
  readonly asOf: string;
  readonly lots: readonly RecalledLot[];
  /** Facts only, oldest first; plans go in `plans`. */
  readonly dispatches: readonly Dispatch[];
  /** Every jar that it reaches and where it is; above a few thousand only how many. */
  readonly jars?: RecalledJars;
  /** Planned dispatches that must be stopped. */
  readonly plans: readonly Dispatch[];
  /** Packs that are not on the list, filled from the same boils, bought syrup or packs. */
  readonly sameSyrup: readonly PackOfSameSyrup[];
  /** Boils, gatherings and receipts upstream that are affected. */
  readonly upstream: readonly { readonly code: string; readonly words: string }[];
  readonly people: readonly Person[];
  readonly authorities: readonly {
    readonly name: string;
    readonly asksAbout: string;
    readonly contact: string | null;
  }[];
  readonly record: RecordRoot;
}

export interface PackOfSameSyrup {
  readonly lot: string;
  readonly packedAt: string;
  /** The codes of the lots that both were filled from. */
  readonly sources: readonly string[];
  readonly jarsMade: number;
  readonly state: LotState;
}

export interface RecallHazard {
  readonly hazard: string | null;
  readonly whoMayBeHurt: string | null;
  readonly whatToDo: string | null;
}

export interface CallMade {
  readonly to: string;
  readonly at: string;
  readonly by: string;
  readonly telephone: string | null;
  /** Whether somebody answered; null where that was not recorded. */
  readonly reached: boolean | null;
  readonly spokeTo: string | null;
  readonly keptApart: number | null;
  readonly note: string | null;
}

export interface RecalledJars {
  readonly count: number;
  readonly listed: readonly {
    readonly lot: string;
    readonly n: number;
    readonly code: string;
    /** The last dispatch that names it; null where none does: on hand, or sent without its code. */
    readonly dispatch: string | null;
    /** `poured back by A002, WE, 2026-03-20` where a corrective action took it off the shelf; else null. */
    readonly takenOff: string | null;
  }[];
}

export interface RecalledLot {
  readonly lot: string;
  readonly packedAt: string;
  readonly container: string;
  readonly jarsMade: number;
  readonly jarsOnHand: number;
  readonly jarsSentOut: number;
  readonly jarsDestroyed: number;
  readonly jarsOther: number;
  readonly unaccounted: number | null;
  /** Its connection to `from`: `packed from 26077A (3 gal)`. */
  readonly boundBy: string;
}
