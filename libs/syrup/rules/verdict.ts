import type { ColourClass } from '../science/colour.js';
import type { JarSpan } from '../jars/jar-spans.js';
import type { Temperature } from '../quantities/quantities.js';
import type { FindingIdentity } from './finding-evidence.js';

/**
 * The key of a finding's identity. As a symbol it is copied with the finding but left out of JSON: verdicts store
 * sentences, and only releases store the evidence.
 */
export const identity: unique symbol = Symbol('identity of a finding');

/** What one rule found in a lot. Its sentences are stored, so that an old verdict prints as it did. */
export interface Finding {
  /** The rule's own short name, such as `fill-temperature`. */
  readonly rule: string;
  /** True for a hold rule; an advisory never holds a lot. */
  readonly stop: boolean;
  /** The limit in words, in the unit of the reading: `180 °F or more in the jar when capped`. */
  readonly limit: string;
  /** What was found, as typed: `179.9 °F at the third reading`. */
  readonly found: string;
  readonly source: string;
  /** The jars that a hold concerns; absent where it is the whole pack. */
  readonly jars?: readonly JarSpan[] | undefined;
  /** What the maker can do about a hold, the cheapest way first: `Pour back jars 13–18 and fill them again.` */
  readonly wayOut?: string | undefined;
  /** The record to answer in, where one answer clears the hold: `boil/26077A`. */
  readonly about?: string | undefined;
  /**
   * A hold that a release accepted with a reason: it no longer holds (`stop` is false) and stays a deviation. `found` is
   * then the sentence that the release accepted.
   */
  readonly accepted?: Acceptance | undefined;
  /** Every jar was taken off sale: the finding no longer holds (`stop` is false), and nobody released the lot for it. */
  readonly offSale?: TakenOffSale | undefined;
  /** What a release of it accepts; only in a finding just made, of a rule that a release may accept. */
  readonly [identity]?: FindingIdentity | undefined;
}

/** Who released a lot in spite of what a rule had found, and why. */
export interface Acceptance {
  readonly by: string;
  readonly at: string;
  readonly why: string;
  /** Where a rule needs an authority’s answer: who was asked, when, and the answer. */
  readonly authority?: string | undefined;
  readonly askedAt?: string | undefined;
  readonly answer?: string | undefined;
}

/** How all jars of a pack went off sale, with who took the last ones off and when, where that was recorded. */
export interface TakenOffSale {
  readonly how: 'destroyed' | 'poured-back-or-destroyed';
  readonly by?: string | undefined;
  readonly at?: string | undefined;
}

/** The verdict on a pack, with the calculated figures. Stored unchanged in the entry. */
export interface Verdict {
  readonly findings: readonly Finding[];
  /** The versions of the rules and the place's rules. */
  readonly rules: string;
  /** True °Bx at 20 °C, rounded to 0.1; null where no usable reading was taken. */
  readonly brix: number | null;
  readonly brixUncertainty: number | null;
  readonly lowestFill: Temperature | null;
  readonly colour: ColourClass | null;
  readonly colourTyped: string | null;
  /** Allergens of every defoamer upstream, as answered. */
  readonly allergens: readonly string[];
  /**
   * For each of `allergens` that an earlier verdict on the pack lacked: since when it has been recorded, in UTC. Absent
   * where there are no allergens, and in verdicts from before November 2026.
   */
  readonly allergensSince?: Readonly<Record<string, string>> | undefined;
  /** Where only some jars are held, which; absent where the whole pack is, or none. */
  readonly heldJars?: readonly JarSpan[] | undefined;
  /** Jars that no reading covers; absent where there are none, or where the pack isn't finished. */
  readonly uncovered?: readonly JarSpan[] | undefined;
  /** Jars that a corrective action poured back or destroyed: they are off sale for good. */
  readonly gone?: readonly JarSpan[] | undefined;
  /** Jars whose seals failed, where a record names them: not for sale, also where nothing records what was done. */
  readonly unsealed?: readonly JarSpan[] | undefined;
  /**
   * Why a lot without a deviation stays held: a correction removed the last one, and a correction never opens a lot, so
   * a maker releases it with a reason.
   */
  readonly awaitsRelease?: string | undefined;
}
