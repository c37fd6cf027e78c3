import type { DensityFacts } from './density-limits.js';
import type { PlaceRules } from '../labelling/places.js';
import { judgeDensity } from './judge-density.js';
import type { RuleName } from './rules.js';

/** What a test cup shows, by the most severe finding of its density. */
export type CupVerdict =
  | 'heavy-enough'
  | 'near-limit'
  | 'too-thin'
  | 'too-heavy'
  | 'measure-again'
  | 'limit-to-confirm'
  | 'hydrometer-not-known'
  | 'not-usable';

/** The result for a hot sample in a test cup. */
export interface JudgedCup {
  readonly verdict: CupVerdict;
  /** True °Bx at 20 °C; null where the reading can't be used. */
  readonly brix: number | null;
  /** The limit and the finding; absent where it is heavy enough. */
  readonly limit?: string;
  readonly found?: string;
}

/** In order of precedence: a thin sample stays thin whatever else is found. */
const verdicts = [
  ['density-not-read', 'not-usable'],
  ['density-too-thin', 'too-thin'],
  ['density-measure-again', 'measure-again'],
  ['hydrometer-temperature', 'hydrometer-not-known'],
  ['hydrometer-not-recorded', 'hydrometer-not-known'],
  ['density-unconfirmed-limit', 'limit-to-confirm'],
  ['density-too-thick', 'too-heavy'],
  ['density-near-limit', 'near-limit'],
] as const satisfies readonly (readonly [RuleName, CupVerdict])[];

/**
 * Judges a hot sample in a test cup, read with a hydrometer, by the place's limit and chart, to decide when to draw off.
 * It holds nothing: packs are judged by their own reading.
 */
export function judgeCup(facts: DensityFacts, place: PlaceRules): JudgedCup {
  const { findings, brix } = judgeDensity({ by: 'hydrometer', ...facts }, place);
  for (const [rule, verdict] of verdicts) {
    const finding = findings.find((each) => each.rule === rule);
    if (finding) return { verdict, brix, limit: finding.limit, found: finding.found };
  }
  return { verdict: 'heavy-enough', brix };
}
