import { choice, required, ownId, freeText } from '../../record/fields.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

const instrumentKinds = ['thermometer', 'hydrometer', 'refractometer', 'scale'] as const;

export const instruments = supportingRecord({
  kind: 'instrument',
  plural: 'instruments',
  noun: 'thermometer or other instrument',
  writer: 'maker',
  fields: {
    ...commonFields,
    id: required(ownId, { label: 'Id written on it', example: 'T1' }),
    what: required(choice(...instrumentKinds), { label: 'What it is', choices: instrumentKinds }),
    made: freeText({ label: 'Maker and model', example: 'dial, 8 in stem' }),
    note: noteField,
  },
});
