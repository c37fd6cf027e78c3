import { required, text, freeText } from '../../record/fields.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

export const filters = supportingRecord({
  kind: 'filter',
  plural: 'filters',
  noun: 'filter washing',
  writer: 'helper',
  fields: {
    ...commonFields,
    what: required(text, { label: 'Which filter', example: 'wool cone 2' }),
    washed: freeText({
      label: 'How it was washed',
      example: 'hot water only',
      hint: 'Hot water only, no soap; do not wring',
    }),
    note: noteField,
  },
});
