import { choice, required, optional, text, freeText } from '../../record/fields.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

export const waterTests = supportingRecord({
  kind: 'water-test',
  plural: 'water-tests',
  noun: 'water test',
  writer: 'maker',
  fields: {
    ...commonFields,
    source: required(text, { label: 'Which water', example: 'house well' }),
    laboratory: freeText({ label: 'Laboratory' }),
    bacteria: optional(choice('none', 'coliform', 'e-coli', 'failed'), {
      label: 'Coliform or E. coli',
      choices: ['none', 'coliform', 'e-coli', 'failed'],
      hint: 'If bacteria were found, the boils that follow raise a question until the same water passes a test',
    }),
    result: required(text, { label: 'Result', example: 'no coliform found' }),
    note: noteField,
  },
});
