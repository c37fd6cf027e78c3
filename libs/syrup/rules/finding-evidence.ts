import type { JarSpan } from '../jars/jar-spans.js';
import type { holdRules } from './hold-rules.js';

/** A rule whose hold a release can clear: with a reason, or with an authority's answer. */
export type AcceptableRule = Extract<(typeof holdRules)[number], { readonly clears: 'reason' | 'authority' }>['name'];

/**
 * The evidence of a finding, by its rule: records, readings, amounts and limits, without sentences. A release stores it
 * and accepts findings with equal evidence, so rewording a finding changes nothing, and a changed value is a new finding.
 *
 * Releases in books hold these names and values, so they are never renamed, rounded otherwise or left out: that would
 * hold the lots again. Corrections of temperatures are rounded to a hundredth of a degree, sugar to 0.1 °Bx; everything else is
 * as it was recorded.
 */
export interface EvidenceByRule {
  readonly 'fill-perhaps-hot-enough': FillEvidence;
  readonly 'thermometer-unreliable': FillEvidence;
  readonly 'readings-too-far-apart': GapEvidence;
  readonly 'glass-poured-in': GlassEvidence;
  readonly 'more-sugar-than-came-in': SugarEvidence;
  readonly 'mould-looked-at': SpoilageEvidence;
  readonly 'harm-reported': HarmEvidence;
  readonly 'harm-in-same-syrup': HarmElsewhereEvidence;
  readonly 'instrument-in-doubt': HarmEvidence;
  readonly 'sources-incomplete': HarmEvidence;
  readonly 'unfit-container': HarmEvidence;
  readonly 'kettle-too-cold': KettleEvidence;
  readonly 'equipment-question': EquipmentEvidence;
  readonly 'sap-question': SapEvidence;
  readonly 'lead-over-limit': LeadEvidence;
  readonly 'outside-these-rules': ProductEvidence;
  readonly 'labels-replaced': WrongLabelsEvidence;
  readonly 'undeclared-allergen-sent': UndeclaredSentEvidence;
}
export type Evidence = EvidenceByRule[AcceptableRule];

/** What makes a finding the one that a release accepted. */
export interface FindingIdentity<Rule extends AcceptableRule = AcceptableRule> {
  readonly evidence: EvidenceByRule[Rule];
  /** The jars that it holds, where the rule knows them: a release never covers more of them. */
  readonly jars?: readonly JarSpan[] | undefined;
}

export interface FillEvidence {
  /** Every reading, coldest first. */
  readonly readings: readonly ReadingEvidence[];
}

export interface ReadingEvidence {
  /** As typed, with its unit: `178.5 F`. */
  readonly read: string;
  /** Which of how many readings, from 1. */
  readonly nth: number;
  readonly readings: number;
  /** Its time and jars as recorded. */
  readonly at?: string | undefined;
  readonly jars?: string | undefined;
  /** When the corrective action was taken that it belongs to; absent for a reading of the pack itself. */
  readonly acted?: string | undefined;
  readonly thermometer?: string | undefined;
  /** The reading names no thermometer. */
  readonly isAssumed?: boolean | undefined;
  /** What the thermometer's checks add to the reading, and the reading with it, in its unit. */
  readonly correction: number;
  readonly corrected: number;
  readonly suspect?: SuspectEvidence | undefined;
}

/** Why a thermometer is unreliable, with the checks that show it. */
export interface SuspectEvidence {
  readonly because: 'wrong-by-unknown-amount' | 'erratic' | 'read-high' | 'out-of-use';
  readonly checks: readonly CheckEvidence[];
}

export interface CheckEvidence {
  readonly check: string;
  readonly day?: string | undefined;
  readonly passed: boolean;
  /** What the check adds to a reading; absent where not both temperatures were recorded. */
  readonly correction?: number | undefined;
  readonly unit?: 'F' | 'C' | undefined;
}

export interface GapEvidence {
  /** The sugarhouse's interval. */
  readonly everyJars?: number | undefined;
  readonly everyMinutes?: number | undefined;
  readonly gaps: readonly Gap[];
}

/** Readings further apart than the interval: by their jars, by their times, or by their number where they name no jars. */
export type Gap =
  | { readonly by: 'jars'; readonly from: number; readonly to: number; readonly readings: 0 | 1 }
  | { readonly by: 'time'; readonly minutes: number; readonly from: string; readonly to: string }
  | { readonly by: 'count'; readonly jars: number; readonly readings: number };

export interface GlassEvidence {
  /** The pack in which glass broke, and at which jars. */
  readonly pack: string;
  readonly broken: readonly JarSpan[];
  /** Jars that may have held splinters when its syrup was poured. */
  readonly poured: readonly JarSpan[];
}

export interface SugarEvidence {
  readonly boil: string;
  readonly syrupMl: number;
  readonly sap: readonly { readonly ml: number; readonly brix: number; readonly isRead: boolean }[];
  /** The least density of the place. */
  readonly leastBrix: number;
}

export interface SpoilageEvidence {
  readonly signs: readonly {
    /** The record: `complaint/CO0001`. */
    readonly about: string;
    readonly mould?: string | undefined;
    readonly seen?: readonly string[] | undefined;
    readonly came?: string | undefined;
    /** What its text says of spoilage, where somebody answered that it is. */
    readonly says?: readonly string[] | undefined;
  }[];
  /** Packs of the same boil with mouldy jars, where these by themselves would hold it. */
  readonly otherPacks?: readonly { readonly lot: string; readonly mouldy: number }[] | undefined;
  /** Other jars that were inspected. */
  readonly mouldy: number;
  readonly sound: number;
}

export interface HarmEvidence {
  readonly about: string;
  /** The words of the complaint or note that raised it. */
  readonly says: readonly string[];
}

/** A complaint about another pack of the same syrup that somebody answered as harm. */
export interface HarmElsewhereEvidence extends HarmEvidence {
  readonly pack: string;
}

export interface KettleEvidence {
  /** As read: `88 °F`. */
  readonly kettle: string;
  /** The hottest jar, where the kettle was colder than it. */
  readonly jar?: string | undefined;
}

export type EquipmentEvidence = { readonly boil: string } & (
  | { readonly cleaning: string; readonly equipment: string }
  | { readonly waterTest: string; readonly source: string; readonly result: string }
  | {
      readonly leadTest: string;
      readonly equipment: string;
      readonly lead: string;
      readonly limitPpb: number;
      readonly place: string;
    }
);

export interface SapEvidence {
  readonly boil: string;
  /** The gathering. */
  readonly sap: string;
  /** How it looked and smelled, as typed. */
  readonly condition: string;
}

export interface LeadEvidence {
  readonly lot: string;
  /** Every test over the limit, oldest first, its result as typed. */
  readonly over: readonly { readonly leadTest: string; readonly lead: string }[];
  readonly limitPpb: number;
}

export interface ProductEvidence {
  /** Which of the products it is taken to be. */
  readonly kind: string;
  /** As typed; absent where the pack's product was left blank. */
  readonly product?: string | undefined;
  /** The packs of another product that it was poured from. */
  readonly pouredFrom: readonly { readonly lot: string; readonly product: string }[];
  /** A note that says what was added, and the word for it. */
  readonly note?: string | undefined;
  readonly added?: string | undefined;
}

export interface WrongLabelsEvidence {
  /** Runs of labels that lack allergens or state too large a quantity. Runs printed since are no part of it. */
  readonly wrong: readonly {
    readonly run: string;
    readonly lacks?: readonly string[] | undefined;
    /** The net quantity on the labels, and the container as recorded now; as typed. */
    readonly states?: string | undefined;
    readonly container?: string | undefined;
  }[];
}

export interface UndeclaredSentEvidence {
  /** Allergens that labels of jars sent out lacked, as answered. */
  readonly lacks: readonly string[];
  readonly sent: readonly { readonly dispatch: string; readonly jars: number }[];
}

/** Whether two pieces of evidence are equal as JSON, regardless of the order of keys. */
export const sameEvidence = (one: Evidence, other: Evidence): boolean => jsonOf(one) === jsonOf(other);

const jsonOf = (value: unknown): string =>
  JSON.stringify(value, (_name, part: unknown) =>
    typeof part === 'object' && part !== null && !Array.isArray(part)
      ? Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)))
      : part,
  );
