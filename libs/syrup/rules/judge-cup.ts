import type { DensityFacts } from './density-limits.js';
import type { PlaceRules } from '../labelling/places.js';
import { judgeDensity } from './judge-density.js';
import type { RuleName } from './rules.js';

export type CupVerdict =
  | 'heavy-enough'
  | 'near-limit'
  | 'too-thin'
  | 'too-heavy'
  | 'measure-again'
  | 'limit-to-confirm'
  | 'hydrometer-not-known'
  | 'not-usable';

export interface JudgedCup {
  readonly verdict: CupVerdict;
  /** True °Bx at 20 °C; null where the reading can't be used. */
  readonly brix: number | null;
  /** The limit and the finding beside it, where there is more to say than that it is heavy enough. */
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
 * A sample in the hot cup, read with a hydrometer, against the place's limit, by its chart where it has one. It decides
 * when to draw off and holds nothing: the pack's own reading, taken since the last boil-up, does that.
 */
export function judgeCup(facts: DensityFacts, place: PlaceRules): JudgedCup {
  const { findings, brix } = judgeDensity({ by: 'hydrometer', ...facts }, place);
  for (const [rule, verdict] of verdicts) {
    const finding = findings.find((each) => each.rule === rule);
    if (finding) return { verdict, brix, limit: finding.limit, found: finding.found };
  }
  return { verdict: 'heavy-enough', brix };
}
