import { count, required, text, freeText } from '../../record/fields.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

export const seasons = supportingRecord({
  kind: 'season',
  plural: 'seasons',
  noun: 'season close',
  writer: 'owner',
  fields: {
    ...commonFields,
    year: required(count, { label: 'Year', example: '2026' }),
    missing: freeText({ label: 'What was missing' }),
    signed: required(text, { label: 'Signed', example: 'Wren Ellery' }),
    note: noteField,
  },
  idOf: (input) => String(input['year']),
});
