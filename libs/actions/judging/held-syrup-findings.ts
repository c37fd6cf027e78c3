import type { PackBody } from '#libs/records/kinds/pack.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { isAboutLabels } from '#libs/syrup/labelling/label-rule-names.js';
import { findingOf, ruleTitle } from '#libs/syrup/rules/rules.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';
import { isOfGlass } from '../facts/glass-upstream.js';

/** A finding for a pack of held syrup, until it is recorded whether the syrup was heated again. */
export function heldSyrupFindings(pack: PackBody, upstream: readonly Lot[]): Finding[] {
  if (pack.hotPackTemp) return [];
  const poured = new Set(pack.fromLots.map(({ lot }) => lot));
  return upstream
    .filter(({ code, kind, state }) => kind === 'pack' && state === 'held' && poured.has(code))
    .flatMap(({ code, verdict }) => {
      const holds = verdict?.findings.filter(({ stop }) => stop) ?? [];
      const isElsewhere = (rule: string): boolean => isOfGlass(rule) || isAboutLabels(rule);
      if (holds.length > 0 && holds.every(({ rule }) => isElsewhere(rule))) return [];
      const rule = holds.find((each) => !isElsewhere(each.rule))?.rule;
      return findingOf('poured-from-held', {
        limit: 'the temperature in the kettle, where held syrup was heated again',
        found: `poured from ${code}, which is held${rule ? `: “${ruleTitle(rule)}”` : ' by hand'}; whether it was heated again is not recorded`,
      });
    });
}
