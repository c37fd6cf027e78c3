import { count, needed, text, freeText } from '../../record/fields.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

export const seasons = supportingRecord({
  kind: 'season',
  plural: 'seasons',
  noun: 'season close',
  writer: 'owner',
  fields: {
    ...commonFields,
    year: needed(count, { label: 'Year', example: '2026' }),
    missing: freeText({ label: 'What was missing' }),
    signed: needed(text, { label: 'Signed', example: 'Wren Ellery' }),
    note: noteField,
  },
  idOf: (input) => String(input['year']),
});
