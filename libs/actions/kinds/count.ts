import type { CountBody } from '#libs/records/kinds/count.js';
import { count, signature, pastMoment, required, withDefault, ownId, text } from '../record/fields.js';
import { kind } from '../record/kind.js';
import { invalid } from '../record/problem.js';
import { lookUpLot } from '../record/references.js';

/** Jars of a pack counted on the shelf. The stock is taken from this count from then on. */
export const countFields = {
  id: required(ownId, { label: 'Id', example: 'C03' }),
  lot: required(text, { label: 'Lot', example: '26077A-1' }),
  jars: required(count, { label: 'Jars on the shelf', example: '31' }),
  countedAt: required(pastMoment, { label: 'Counted at', example: '2026-06-01T18:00' }),
  by: withDefault(signature, '', { label: 'By', example: 'WE' }),
};

export const counts = kind({
  kind: 'count',
  plural: 'counts',
  noun: 'count',
  fields: countFields,
  idFields: ['id'],
  prepare: async ({ reader, writeContext: context, first }, { body }) => {
    const lot = await lookUpLot(reader, body.lot);
    if (lot?.kind !== 'pack') return invalid('lot', 'a pack of this book', `"${body.lot}"`);
    if (Date.parse(body.countedAt) > context.now.getTime())
      return invalid('countedAt', 'a time in the past: a count can’t be planned', `"${body.countedAt}"`);
    const prepared: CountBody = { lot: lot.code, jars: body.jars, countedAt: body.countedAt, by: body.by || first.by };
    return {
      id: body.id,
      lot: lot.code,
      happenedAt: body.countedAt,
      body: prepared,
      about: [lot.code],
      judge: [],
      notes: [],
    };
  },
});
