import { required, optional, text, freeText } from '../../record/fields.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

export const supplies = supportingRecord({
  kind: 'supply',
  plural: 'supplies',
  noun: 'supply',
  writer: 'maker',
  fields: {
    ...commonFields,
    what: required(text, { label: 'What', example: 'half-pint jars' }),
    supplier: required(text, { label: 'From whom' }),
    theirLot: freeText({ label: 'Their lot' }),
    howMany: freeText({ label: 'How many', example: '144' }),
    allergens: freeText({ label: 'Allergens', example: 'none' }),
    lot: optional(text, { label: 'Used for pack', example: '26077A-1' }),
    note: noteField,
  },
});
