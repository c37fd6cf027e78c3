import { ruleTitle } from '#libs/syrup/rules/rules.js';
import type { FieldChange, VerdictChange, VerdictThen } from './deviation.js';

/** fillTemps → fill temps */
export const fieldText = (field: string): string => field.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);

/** `fill temps 178 F → 188 F` */
const changeText = ({ field, was, now }: FieldChange): string =>
  `${field} ${was ?? 'not recorded'} → ${now ?? 'not recorded'}`;

/** `fill temps 178 F → 188 F; by WE → OE` */
export const formatChanges = (change: VerdictChange): string => change.changes.map(changeText).join('; ');

/** `held: Fill temperature (178 °F, the second of 3 readings)`, `open`. */
export const formatVerdict = (then: VerdictThen): string => verdictText(then, ruleTitle);

/** As `formatVerdict`, with rules by their stored names: `held: fill-temperature (178 °F)`. */
export const verdictForScripts = (then: VerdictThen): string => verdictText(then, (rule) => rule);

const verdictText = ({ state, holds }: VerdictThen, nameOf: (rule: string) => string): string =>
  [state, holds.map(({ rule, found }) => `${nameOf(rule)} (${found})`).join('; ')].filter(Boolean).join(': ');
