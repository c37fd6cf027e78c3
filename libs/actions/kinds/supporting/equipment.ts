import { needed, ownId, text, words } from '../../record/fields.js';
import { common, note, supportingRecord } from './declare.js';

export const equipment = supportingRecord({
  kind: 'equipment',
  plural: 'equipment',
  noun: 'piece of equipment',
  writer: 'maker',
  fields: {
    ...common,
    id: needed(ownId, { label: 'Id', example: 'PAN1' }),
    what: needed(text, { label: 'What it is', example: 'finish pan' }),
    material: words({ label: 'Material', example: 'stainless, welded' }),
    year: words({ label: 'Year made', example: '2011' }),
    solder: words({
      label: 'Solder, terneplate or galvanised parts',
      example: 'none',
      hint: 'Solder before 1995, galvanised before 1994 and terneplate may hold lead',
    }),
    note,
  },
});
