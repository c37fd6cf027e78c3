import { needed, text, freeText } from '../../record/fields.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

export const licences = supportingRecord({
  kind: 'licence',
  plural: 'licences',
  noun: 'licence',
  writer: 'maker',
  fields: {
    ...commonFields,
    what: needed(text, { label: 'What', example: 'producer licence' }),
    number: needed(text, { label: 'Number' }),
    until: freeText({ label: 'Valid until', example: '2026-12-31' }),
    note: noteField,
  },
});
