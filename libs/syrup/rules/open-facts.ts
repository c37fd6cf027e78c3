import type { JarSpan } from '../jars/jar-spans.js';
import type { JudgedReading } from './judge-reading.js';
import type { Finding } from './verdict.js';

/** A value as recorded, and who recorded it last. */
export interface Recorded {
  readonly value: string;
  readonly by: string;
}

/** A reading that still applies to jars, as judged, with who recorded it. */
export interface FillRecorded extends Pick<Recorded, 'by'> {
  readonly reading: JudgedReading;
}

/** A check of an instrument: those around a reading, at each point. */
export interface CheckRecorded extends Pick<Recorded, 'by'> {
  readonly at: string;
  readonly how: string;
  readonly should?: string | undefined;
  readonly reads?: string | undefined;
}

/** What was recorded for a rule, as sentences that name who recorded it, and what was not recorded. */
export interface RuleEvidence {
  readonly because: readonly string[];
  readonly notRecorded?: readonly string[];
  /** False where something that the rule needs was not recorded. */
  readonly isJudged?: boolean;
  /** False where the place has no limit to meet. */
  readonly hasLimit?: boolean;
}

/** Fields of the pack itself; what was not recorded is absent. */
type RecordedFields = Partial<Record<PackField, Recorded | undefined>>;
type PackField =
  | 'brokenGlass'
  | 'seals'
  | 'sealsOutcome'
  | 'product'
  | 'clarity'
  | 'offFlavour'
  | 'colour'
  | 'note'
  | 'kettle'
  | 'mould';

/** All evidence for why a pack may be sent out. What was not recorded is absent. */
export interface OpenFacts extends Readonly<RecordedFields> {
  readonly findings: readonly Finding[];
  readonly fills: readonly FillRecorded[];
  /** By the thermometer's id; empty where none is recorded. */
  readonly checks: ReadonlyMap<string, readonly CheckRecorded[]>;
  /** Jars that no reading covers. */
  readonly uncovered: readonly JarSpan[];
  /** How often the sugarhouse reads a jar, and whether it holds jars between readings further apart. */
  readonly interval: { readonly typed: string; readonly holds: boolean };
  /** Whether the place has a greatest density. */
  readonly hasMaximumDensity: boolean;
  readonly density?:
    (Recorded & { readonly sampleAt?: string | undefined; readonly with?: string | undefined }) | undefined;
  readonly jars: number | null;
  readonly container: string;
  readonly drawn: readonly string[];
  readonly defoamers: readonly {
    readonly lot: string;
    readonly defoamer: string;
    readonly allergens: string;
    readonly by: string;
  }[];
  /** What labels that were printed state, run by run. */
  readonly labels: RuleEvidence;
  /** Bought syrup with its seller's answer about allergens. */
  readonly bought: readonly { readonly lot: string; readonly allergens: string; readonly by: string }[];
  readonly upstream: readonly { readonly lot: string; readonly state: string }[];
  readonly pouredFrom: readonly string[];
  readonly complaints: readonly { readonly id: string; readonly mould: string; readonly by: string }[];
  /** Complaints about other packs of the same syrup that were answered as harm. */
  readonly harmElsewhere: RuleEvidence;
  /** Answers to questions raised by free text. */
  readonly answered: readonly string[];
  /** For the boils upstream: what went in and came out, what was cleaned and tested before them. */
  readonly sugar: RuleEvidence;
  readonly sap: RuleEvidence;
  readonly equipment: RuleEvidence;
  readonly lead: RuleEvidence;
}
