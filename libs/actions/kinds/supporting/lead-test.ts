import { optional, text, freeText } from '../../record/fields.js';
import { leadField } from '../lead-field.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

export const leadTests = supportingRecord({
  kind: 'lead-test',
  plural: 'lead-tests',
  noun: 'lead test',
  writer: 'maker',
  fields: {
    ...commonFields,
    lot: optional(text, {
      label: 'Lot tested',
      example: '26077A-1',
      hint: 'Blank where a piece of equipment was tested',
    }),
    equipment: freeText({ label: 'Equipment tested', example: 'PAN1' }),
    laboratory: freeText({ label: 'Laboratory' }),
    lead: leadField,
    note: noteField,
  },
  judgesLot: true,
});
