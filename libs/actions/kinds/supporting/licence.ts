import { required, text, freeText } from '../../record/fields.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

export const licences = supportingRecord({
  kind: 'licence',
  plural: 'licences',
  noun: 'licence',
  writer: 'maker',
  fields: {
    ...commonFields,
    what: required(text, { label: 'What', example: 'producer licence' }),
    number: required(text, { label: 'Number' }),
    until: freeText({ label: 'Valid until', example: '2026-12-31' }),
    note: noteField,
  },
});
