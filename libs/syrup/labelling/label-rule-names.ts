import type { RuleName } from '../rules/rules.js';

/** The rules that hold jars for what their printed labels state: new labels and a maker's confirmation clear them. */
const wrongLabelRules: readonly RuleName[] = ['undeclared-allergen', 'label-net-quantity', 'labels-replaced'];

/** Whether a rule, by its name in a verdict, holds jars that need new labels. */
export const needsNewLabels = (rule: string): boolean => wrongLabelRules.includes(rule as RuleName);

/** Whether a rule is about labels or allergens, so that readings and reheating clear nothing. */
export const isAboutLabels = (rule: string): boolean =>
  needsNewLabels(rule) || rule === 'undeclared-allergen-sent' || rule === 'bought-syrup-allergens';
