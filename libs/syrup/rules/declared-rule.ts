import type { Provenance } from './provenance.js';

/** How a hold is cleared: see `DeclaredRule.clears`. */
export type Clearance = 'evidence' | 'reason' | 'authority';

/** The declaration of a rule. The names of all rules make up `RuleName` (rules.ts). */
export interface DeclaredRule {
  readonly name: string;
  /** Its name on pages and documents; `name` is stored in the log and used in JSON and CSV. */
  readonly title: string;
  /** A hold rule holds the lot; an advisory never does. The stored values are `stop` and `advice`. */
  readonly kind: 'stop' | 'advice';
  /**
   * How a lot that it holds may be sent out again: by new evidence alone (readings, an answer, jars taken off sale); by
   * a release of a maker or owner with a reason; by a release of an owner who names the authority asked.
   */
  readonly clears?: Clearance;
  /**
   * What is missing from the record where it holds, so that recording it clears the hold without a release: a reading of
   * the pack, or another fact (an amount, an answer, what was done with a jar).
   */
  readonly missing?: 'reading' | 'record';
  /** What it requires, in a sentence. */
  readonly says: string;
  /** What a maker can do about it, the cheapest first; used where the finding gives nothing more specific. */
  readonly wayOut?: string;
  readonly source: string;
  readonly mark: Provenance;
  /** Date of the copy that was read, or its year; absent where nothing was read. */
  readonly readOn?: string;
}

/** The source text of a rule without a document. */
export const practice = 'common practice, no source';
