import { type Field, required } from '../record/fields.js';

/** An amount of lead as a laboratory reports it, and in parts per billion; 1 mg/kg is 1,000 of them. */
export interface Lead {
  readonly typed: string;
  readonly ppb: number;
}

export const leadField: Field<Lead> = required(
  (typed) => {
    const parts = /^<? ?(\d{1,7}(?:[.,]\d{1,6})?) ?(ppb|ppm|µg\/kg|ug\/kg|mg\/kg|µg\/l|ug\/l|mg\/l)$/iu.exec(
      typed.trim(),
    );
    if (!parts)
      return { mismatch: { expected: 'an amount of lead with its unit, like 240 ppb or 0.24 ppm', got: `"${typed}"` } };
    const amount = Number((parts[1] ?? '').replace(',', '.'));
    return { value: { typed, ppb: /^(?:ppm|mg)/iu.test(parts[2] ?? '') ? amount * 1000 : amount } };
  },
  { label: 'Lead', example: '240 ppb', hint: 'As the laboratory reports it, in ppb or ppm' },
);
