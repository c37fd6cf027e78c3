import { choice, count, needed, maybe, orElse, text, freeText } from '../../record/fields.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

export const labelRuns = supportingRecord({
  kind: 'labels',
  plural: 'label-runs',
  noun: 'label run',
  writer: 'helper',
  fields: {
    ...commonFields,
    lot: needed(text, { label: 'Lot' }),
    stock: freeText({ label: 'Stock' }),
    from: maybe(count, { label: 'From jar' }),
    to: maybe(count, { label: 'To jar' }),
    what: orElse(choice('printed', 'spoiled', 'reprinted'), 'printed', {
      label: 'What',
      choices: ['printed', 'spoiled', 'reprinted'],
    }),
    skip: maybe(count, { label: 'Places skipped on the sheet' }),
    ended: maybe(count, { label: 'Places used of the last sheet' }),
    right: freeText({ label: 'Moved right, mm' }),
    down: freeText({ label: 'Moved down, mm' }),
    gtin: freeText({ label: 'Article number (GTIN)', letters: 20 }),
    note: noteField,
  },
});
