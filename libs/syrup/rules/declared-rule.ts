import type { Provenance } from './provenance.js';

export type Clears = 'evidence' | 'reason' | 'authority';

/** The declaration of a rule; its name becomes a type once all are listed (rules.ts). */
export interface DeclaredRule {
  readonly name: string;
  /** What it is called on pages and documents; `name` is what the log, JSON and CSV hold. */
  readonly title: string;
  /** A hold rule holds the lot; an advisory never does. The stored values are `stop` and `advice`. */
  readonly kind: 'stop' | 'advice';
  /**
   * How a lot that it holds may be sent out again: by new evidence alone (readings, an answer, jars taken off sale); by
   * a release of a maker or owner with a reason; by a release of an owner who names the authority asked.
   */
  readonly clears?: Clears;
  /**
   * It holds because something is missing from the record, and recording that clears it without a release: a reading of
   * the pack, or anything else (an amount, an answer, what became of a jar).
   */
  readonly missing?: 'reading' | 'record';
  /** What it requires, in a sentence. */
  readonly says: string;
  /** What a maker may do about it, the cheapest first; used where the finding has nothing more specific. */
  readonly wayOut?: string;
  readonly source: string;
  readonly mark: Provenance;
  /** Date of the copy that was read, or its year; absent where nothing was read. */
  readonly readOn?: string;
}

/** The source text of a rule without a document. */
export const practice = 'common practice, no source';
