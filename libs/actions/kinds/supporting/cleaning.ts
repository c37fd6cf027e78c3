import { choice, required, optional, text, freeText } from '../../record/fields.js';
import { cleaningNotes, findDangerousMixture } from '../cleaning-notes.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

export const cleanings = supportingRecord({
  kind: 'cleaning',
  plural: 'cleanings',
  noun: 'cleaning',
  writer: 'helper',
  fields: {
    ...commonFields,
    what: required(text, { label: 'What was cleaned', example: 'finish pan and draw-off' }),
    with: required(text, {
      label: 'With what',
      example: 'unscented bleach',
      hint: '1 part unscented bleach to 20 of water; no household detergent, no iodine',
    }),
    strength: freeText({ label: 'How strong', example: '1 to 20' }),
    wasRinsed: optional(choice('yes', 'no'), {
      label: 'Rinsed',
      choices: ['yes', 'no'],
      hint: 'If not rinsed, boils that go through it raise a question until it is. Rinse between two cleaners too',
    }),
    rinsed: freeText({ label: 'Rinsed with', example: 'clean water, three times' }),
    note: noteField,
  },
  complete: async (input, when, { reader }) => {
    const mixed = await findDangerousMixture(reader, input, when);
    return { body: mixed === undefined ? {} : { mixed }, notes: cleaningNotes(mixed) };
  },
});
