import { count, needed, text, freeText } from '../../record/fields.js';
import { common, note, supportingRecord } from './declare.js';

export const seasons = supportingRecord({
  kind: 'season',
  plural: 'seasons',
  noun: 'season close',
  writer: 'owner',
  fields: {
    ...common,
    year: needed(count, { label: 'Year', example: '2026' }),
    missing: freeText({ label: 'What was missing' }),
    signed: needed(text, { label: 'Signed', example: 'Wren Ellery' }),
    note,
  },
  idOf: (input) => String(input['year']),
});
