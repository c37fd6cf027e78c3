import type { CountBody } from '#libs/records/kinds/count.js';
import { count, signature, happened, needed, orElse, ownId, text } from '../record/fields.js';
import { kind } from '../record/kind.js';
import { invalid } from '../record/problem.js';
import { lookUpLot } from '../record/references.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Jars of a pack counted on the shelf. The stock is taken from this count from then on. */
export const countFields = {
  id: needed(ownId, { label: 'Id', example: 'C03' }),
  lot: needed(text, { label: 'Lot', example: '26077A-1' }),
  jars: needed(count, { label: 'Jars on the shelf', example: '31' }),
  countedAt: needed(happened, { label: 'Counted at', example: '2026-06-01T18:00' }),
  by: orElse(signature, '', { label: 'By', example: 'WE' }),
};

export const counts = kind({
  kind: 'count',
  plural: 'counts',
  noun: 'count',
  fields: countFields,
  named: ['id'],
  prepare: async ({ sql, writeContext: context, first }, { body }) => {
    const lot = await lookUpLot(sugarhouseReader(sql, context.sugarhouse), body.lot);
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
