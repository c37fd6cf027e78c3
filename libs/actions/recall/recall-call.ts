import type { Parsed } from '#libs/syrup/quantities/quantities.js';
import type { RecallCallBody } from '#libs/records/kinds/recall-call.js';
import {
  choice,
  count,
  pastMoment,
  optional,
  required,
  withDefault,
  ownId,
  splitList,
  signature,
  text,
  freeText,
} from '../record/fields.js';
import { kind } from '../record/kind.js';
import { invalid } from '../record/problem.js';
import { lookUpLot } from '../record/references.js';

const lotList = (typed: string): Parsed<readonly string[]> => ({ value: splitList(typed) });

/** A call made in a recall: who was called, when and by whom. Ticks the customer off the call list. */
export const recallCallFields = {
  id: optional(ownId, { label: 'Id', hint: 'Leave blank for the next one' }),
  lot: required(text, { label: 'Recalled lot', example: '26077A-1' }),
  lots: optional(lotList, {
    label: 'Other lots of the same recall',
    example: '26078A-1;26079A-1',
    list: true,
    letters: 2000,
    items: 100,
    hint: 'The call is in the history of each',
  }),
  to: required(text, { label: 'Who was called', example: 'Millrace Green market', hint: 'As the dispatch names them' }),
  at: optional(pastMoment, { label: 'When', example: '2026-05-03T09:00', hint: 'If blank, now' }),
  telephone: optional(text, { label: 'Number called', example: '802 555 0142' }),
  reached: optional(choice('yes', 'no'), {
    label: 'Was the call answered?',
    choices: ['yes', 'no'],
    hint: 'Only “yes” ticks off the call',
  }),
  spokeTo: freeText({ label: 'Spoke to', example: 'June Pascoe' }),
  keptApart: optional(count, { label: 'Jars they have set apart', example: '4' }),
  note: freeText({ label: 'Note', example: 'two were sold on Saturday' }),
  by: withDefault(signature, '', { label: 'By', example: 'WE' }),
};

export const recallCalls = kind({
  kind: 'recall-call',
  plural: 'recall-calls',
  noun: 'recall call',
  fields: recallCallFields,
  idFields: ['id'],
  prepare: async ({ reader, first }, { body }, before) => {
    const lot = await lookUpLot(reader, body.lot);
    if (!lot) return invalid('lot', 'a lot of this book', `"${body.lot}"`);
    const others: string[] = [];
    for (const code of body.lots ?? []) {
      const other = await lookUpLot(reader, code);
      if (!other) return invalid('lots', 'lots of this book', `"${code}"`);
      if (other.code !== lot.code && !others.includes(other.code)) others.push(other.code);
    }
    const { id = before?.id ?? '', ...call } = body;
    const at = body.at ?? first.at;
    return {
      id,
      lot: lot.code,
      happenedAt: at,
      body: {
        ...call,
        lot: lot.code,
        lots: others.length > 0 ? others : undefined,
        at,
        by: call.by || first.by,
      } satisfies RecallCallBody,
      about: [lot.code, ...others],
      judge: [],
      notes: [],
    };
  },
});
