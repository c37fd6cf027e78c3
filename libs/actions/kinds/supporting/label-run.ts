import { choice, count, required, optional, withDefault, text, freeText, volume } from '../../record/fields.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

export const labelRuns = supportingRecord({
  kind: 'labels',
  plural: 'label-runs',
  noun: 'label run',
  writer: 'helper',
  fields: {
    ...commonFields,
    lot: required(text, { label: 'Lot' }),
    stock: freeText({ label: 'Stock' }),
    from: optional(count, { label: 'From jar' }),
    to: optional(count, { label: 'To jar' }),
    what: withDefault(choice('printed', 'spoiled', 'reprinted'), 'printed', {
      label: 'What',
      choices: ['printed', 'spoiled', 'reprinted'],
    }),
    skip: optional(count, { label: 'Places skipped on the sheet' }),
    ended: optional(count, { label: 'Places used of the last sheet' }),
    right: freeText({ label: 'Moved right, mm' }),
    down: freeText({ label: 'Moved down, mm' }),
    allergens: freeText({ label: 'Allergens that they declare', example: 'none' }),
    quantity: optional(volume, { label: 'Net quantity that they state', example: '8 fl oz' }),
    gtin: freeText({ label: 'Article number (GTIN)', letters: 20 }),
    note: noteField,
  },
});
