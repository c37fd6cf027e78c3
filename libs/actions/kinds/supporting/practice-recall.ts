import { count, optional, text, freeText } from '../../record/fields.js';
import { commonFields, noteField, supportingRecord } from './declare.js';

export const practiceRecalls = supportingRecord({
  kind: 'practice-recall',
  plural: 'practice-recalls',
  noun: 'mock recall',
  writer: 'maker',
  fields: {
    ...commonFields,
    jar: freeText({ label: 'Jar drawn' }),
    lot: optional(text, { label: 'Lot' }),
    seconds: optional(count, { label: 'Seconds it took' }),
    accounted: freeText({ label: 'Accounted for' }),
    counted: optional(count, { label: 'Jars counted on the shelf', hint: 'By a person, for this recall' }),
    result: freeText({ label: 'Result' }),
    note: noteField,
  },
});
