import { needed, maybe, text, freeText } from '../../record/fields.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

export const supplies = supportingRecord({
  kind: 'supply',
  plural: 'supplies',
  noun: 'supply',
  writer: 'maker',
  fields: {
    ...commonFields,
    what: needed(text, { label: 'What', example: 'half-pint jars' }),
    supplier: needed(text, { label: 'From whom' }),
    theirLot: freeText({ label: 'Their lot' }),
    howMany: freeText({ label: 'How many', example: '144' }),
    allergens: freeText({ label: 'Allergens', example: 'none' }),
    lot: maybe(text, { label: 'Used for pack', example: '26077A-1' }),
    note: noteField,
  },
});
