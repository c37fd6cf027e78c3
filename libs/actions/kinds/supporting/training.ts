import { required, text } from '../../record/fields.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

export const trainings = supportingRecord({
  kind: 'training',
  plural: 'trainings',
  noun: 'training',
  writer: 'maker',
  fields: {
    ...commonFields,
    who: required(text, { label: 'Who', example: 'JP' }),
    what: required(text, { label: 'What', example: 'hand washing, hot filling' }),
    note: noteField,
  },
});
