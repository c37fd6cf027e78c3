import type { FieldChange, VerdictChange } from './deviation.js';

/** fillTemps → fill temps */
export const fieldText = (field: string): string => field.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);

/** `fill temps 178 F → 188 F` */
const changeText = ({ field, was, now }: FieldChange): string =>
  `${field} ${was ?? 'not recorded'} → ${now ?? 'not recorded'}`;

/** `fill temps 178 F → 188 F; by WE → OE` */
export const formatChanges = (change: VerdictChange): string => change.changes.map(changeText).join('; ');
