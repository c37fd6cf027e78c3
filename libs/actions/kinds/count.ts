import type { CountBody } from '#libs/records/kinds/count.js';
import { utcOf } from '#libs/store/connection/instants.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { balanceOf } from '#libs/store/queries/jar-balance.js';
import { count, signature, pastMoment, required, withDefault, ownId, text } from '../record/fields.js';
import { kind } from '../record/kind.js';
import { invalid } from '../record/problem.js';
import { lookUpLot } from '../record/references.js';

/** A count of more jars than can be on the shelf adds none to the stock; whoever counted is asked to count again. */
async function countNotes(reader: SugarhouseReader, { lot, jars, countedAt }: CountBody): Promise<string[]> {
  const { made, sentOut, destroyed, other } = await balanceOf(reader, lot, utcOf(countedAt));
  const most = Math.max(0, made - Math.max(0, sentOut) - destroyed - other);
  if (jars <= most) return [];
  const gone = made - most;
  return [
    `${jars} of ${lot} were counted, and by the records at most ${most} can be on the shelf: ${made} were made${gone > 0 ? `, and ${gone} were sent out, destroyed or used otherwise` : ''}. Count again, or correct the record that is wrong.`,
  ];
}

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
      notes: await countNotes(reader, prepared),
    };
  },
});
