import { advisories } from './advisories.js';
import type { Clearance, DeclaredRule } from './declared-rule.js';
import { holdRules } from './hold-rules.js';
import type { AcceptableRule, FindingIdentity } from './finding-evidence.js';
import { sourceText } from './provenance.js';
import { type Finding, identity } from './verdict.js';

/** A rule that packs are judged by. The density limits are the place's own (places.ts), with their source. */
export type Rule = DeclaredRule & { readonly name: RuleName };

/** Increased whenever a rule, or how it is judged, changes. Stored in every verdict. */
export const rulesVersion = '3';

const ruleTable = [...holdRules, ...advisories] as const;

export type RuleName = (typeof ruleTable)[number]['name'];

export const rules: readonly Rule[] = ruleTable;

const byName = new Map<RuleName, Rule>(rules.map((rule) => [rule.name, rule]));

/** What the caller of `findingOf` gives. */
type FindingParts = Pick<Finding, 'limit' | 'found' | 'jars' | 'wayOut' | 'about'> & { readonly source?: string };
/** A finding of a rule that a release may accept needs an identity; the compiler refuses one without it. */
type IdentifiedBy<Name extends RuleName> = Name extends AcceptableRule
  ? { readonly identity: FindingIdentity<Name> }
  : { readonly identity?: FindingIdentity };

/**
 * A finding of a rule. The rule decides whether it holds; a limit with a source of its own gives that one. `jars` are
 * those that it holds, where not the whole pack; `wayOut` is what the maker may do about it, the cheapest first;
 * `identity` is what a release of it accepts, whatever `found` says.
 */
export function findingOf<Name extends RuleName>(
  name: Name,
  { limit, found, source, jars, wayOut, about, identity: accepts }: FindingParts & IdentifiedBy<Name>,
): Finding {
  const rule = byName.get(name);
  if (!rule) throw new RangeError(`there is no rule ${name}`);
  return {
    rule: name,
    stop: rule.kind === 'stop',
    limit,
    found,
    source: source ?? sourceText(rule),
    ...(jars ? { jars } : {}),
    ...(rule.kind === 'stop' && (wayOut ?? rule.wayOut) ? { wayOut: wayOut ?? rule.wayOut } : {}),
    ...(about ? { about } : {}),
    ...(accepts && rule.clears !== 'evidence' ? { [identity]: accepts } : {}),
  };
}

/** How a lot held by this rule may be sent out again. An unknown rule is cleared by evidence alone. */
export const clearanceOf = (rule: string): Clearance => byName.get(rule as RuleName)?.clears ?? 'evidence';

/** What is missing from the record where this rule holds; undefined where it holds for what was recorded. */
export const missingFromRecord = (rule: string): Rule['missing'] => byName.get(rule as RuleName)?.missing;

/** A rule's title. A name from the log that is no rule of today is returned as it is: `held by hand`, a retired rule. */
export const ruleTitle = (rule: string): string => byName.get(rule as RuleName)?.title ?? rule;

/** The rules as rows of a Markdown table, for libs/syrup/README.md. */
export function rulesTable(): string {
  const rows = rules.map(
    (rule) => `| ${rule.name} | ${rule.title} | ${rule.kind} | ${rule.says} | ${sourceText(rule)} |`,
  );
  return ['| rule | title | kind | what it requires | source |', '|---|---|---|---|---|', ...rows].join('\n');
}
