import { needed, maybe, text, words } from '../../record/fields.js';
import { common, note, supportingRecord } from './declare.js';

export const supplies = supportingRecord({
  kind: 'supply',
  plural: 'supplies',
  noun: 'supply',
  writer: 'maker',
  fields: {
    ...common,
    what: needed(text, { label: 'What', example: 'half-pint jars' }),
    supplier: needed(text, { label: 'From whom' }),
    theirLot: words({ label: 'Their lot' }),
    howMany: words({ label: 'How many', example: '144' }),
    allergens: words({ label: 'Allergens', example: 'none' }),
    lot: maybe(text, { label: 'Used for pack', example: '26077A-1' }),
    note,
  },
});
