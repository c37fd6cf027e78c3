import { required, ownId, text, freeText } from '../../record/fields.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

export const equipment = supportingRecord({
  kind: 'equipment',
  plural: 'equipment',
  noun: 'piece of equipment',
  writer: 'maker',
  fields: {
    ...commonFields,
    id: required(ownId, { label: 'Id', example: 'PAN1' }),
    what: required(text, { label: 'What it is', example: 'finish pan' }),
    material: freeText({ label: 'Material', example: 'stainless, welded' }),
    year: freeText({ label: 'Year made', example: '2011' }),
    solder: freeText({
      label: 'Solder, terneplate or galvanised parts',
      example: 'none',
      hint: 'Solder before 1995, galvanised before 1994 and terneplate may hold lead',
    }),
    note: noteField,
  },
});
