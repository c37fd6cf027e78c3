/**
 * A hold rule broken, a hold by hand, a recall, or a dispatch of held jars that was voided, from when it was found to
 * how it ended. It is read from the log as judged at the time, so acting on it or correcting it does not remove it.
 */
export interface Deviation {
  readonly lot: string;
  /** `void`: jars recorded as sent while the lot was held, and the dispatch voided later. */
  readonly kind: 'rule' | 'hold' | 'recall' | 'void';
  /** The rule's short name; `held by hand` or `recalled` where a person did it. */
  readonly rule: string;
  readonly found: string;
  /** Empty where a person held the lot by hand. */
  readonly limit: string;
  readonly source: string;
  /** The jars it holds, as text; null where the record does not name them. */
  readonly jars: string | null;
  /** What clears it, as a sentence, where the rule has one. */
  readonly wayOut: string | null;
  readonly foundAt: string;
  readonly foundBy: string;
  /** When it first held the lot; null where it never did. */
  readonly heldAt: string | null;
  readonly done: readonly DeviationStep[];
  /** Readings taken again by a corrective action, as typed. */
  readonly readAgain: readonly string[];
  /** When and by what the rule was no longer broken. */
  readonly cleared: { readonly at: string; readonly by: string; readonly through: string } | null;
  readonly released: { readonly at: string; readonly by: string; readonly why: string } | null;
  /** Neither released nor cleared by a corrected record: the lot is still held or recalled for it. */
  readonly open: boolean;
}

/** A corrective action or a correction while the deviation was open. */
export interface DeviationStep {
  readonly at: string;
  readonly by: string;
  readonly words: string;
}

/** A correction that changed a lot's verdict, with the value before and after. */
export interface VerdictChange {
  readonly lot: string;
  readonly at: string;
  readonly by: string;
  readonly why: string | null;
  /** The record that was corrected: `pack 26077A-1`, `check K1`. */
  readonly record: string;
  readonly changes: readonly FieldChange[];
  readonly before: VerdictThen;
  readonly after: VerdictThen;
}

/** A lot's state and the hold rules that applied, as judged at one time. */
export interface VerdictThen {
  readonly state: string;
  readonly holds: readonly { readonly rule: string; readonly found: string }[];
}

export interface FieldChange {
  readonly field: string;
  readonly was: string | null;
  readonly now: string | null;
}
