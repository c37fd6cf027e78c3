/**
 * A hold rule broken, a hold by hand, a recall, or a dispatch of held jars that was voided, from when it was found to how it ended. It is read from the record
 * log as it was judged at the time, so acting on it or correcting it does not take it away.
 */
export interface Deviation {
  readonly lot: string;
  /** `void`: jars recorded as gone while the lot was held, and the dispatch voided later. */
  readonly kind: 'rule' | 'hold' | 'recall' | 'void';
  /** Our short name of the rule; `held by hand` or `recalled` where a person did it. */
  readonly rule: string;
  readonly found: string;
  /** Empty where a person held the lot for a reason of their own. */
  readonly limit: string;
  readonly source: string;
  /** The jars it holds, as text; null where the record does not name them. */
  readonly jars: string | null;
  /** The way out, as a sentence, where the rule names one. */
  readonly wayOut: string | null;
  readonly foundAt: string;
  readonly foundBy: string;
  /** Since when the lot was held for it; null where it was never held. */
  readonly heldAt: string | null;
  readonly done: readonly DeviationStep[];
  /** Readings taken again by a corrective action, as typed. */
  readonly readAgain: readonly string[];
  /** When the rule no longer found it, and through what. */
  readonly cleared: { readonly at: string; readonly by: string; readonly through: string } | null;
  readonly released: { readonly at: string; readonly by: string; readonly why: string } | null;
  /** Neither released nor cleared by a better record: the lot is still held or recalled for it. */
  readonly open: boolean;
}

/** A corrective action or a correction while it was open. */
export interface DeviationStep {
  readonly at: string;
  readonly by: string;
  readonly words: string;
}

/** A correction after which a lot was judged otherwise, with the value before and after. */
export interface VerdictChange {
  readonly lot: string;
  readonly at: string;
  readonly by: string;
  readonly why: string | null;
  /** The record that was corrected: `pack 26077A-1`, `check K1`. */
  readonly record: string;
  readonly changes: readonly FieldChange[];
  readonly before: string;
  readonly after: string;
}

export interface FieldChange {
  readonly field: string;
  readonly was: string | null;
  readonly now: string | null;
}
