import { count, maybe, text, words } from '../../record/fields.js';
import { common, note, supportingRecord } from './declare.js';

export const practiceRecalls = supportingRecord({
  kind: 'practice-recall',
  plural: 'practice-recalls',
  noun: 'practice recall',
  writer: 'maker',
  fields: {
    ...common,
    jar: words({ label: 'Jar drawn' }),
    lot: maybe(text, { label: 'Lot' }),
    seconds: maybe(count, { label: 'Seconds it took' }),
    accounted: words({ label: 'Accounted for' }),
    counted: maybe(count, { label: 'Jars counted on the shelf', hint: 'By a person, for this recall' }),
    result: words({ label: 'Result' }),
    note,
  },
});
