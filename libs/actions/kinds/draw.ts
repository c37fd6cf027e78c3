import { findLot, type Lot } from '#libs/store/queries/lots.js';
import { lotsDownstream, ofKind } from '#libs/store/queries/trace.js';
import {
  signature,
  optional,
  pastMoment,
  required,
  withDefault,
  ownId,
  temperature,
  text,
  volume,
  freeText,
  instrumentsField,
} from '../record/fields.js';
import { kind } from '../record/kind.js';
import { invalid } from '../record/problem.js';
import { lookUpLot } from '../record/references.js';

/** Syrup drawn off from the last pan. A long boil has many draws. */
export const drawFields = {
  id: required(ownId, { label: 'Id', example: 'D07' }),
  boil: required(text, { label: 'Boil', example: '26077A' }),
  drawnAt: required(pastMoment, { label: 'Drawn off at', example: '2026-03-18T14:05' }),
  volume: required(volume, { label: 'How much', example: '3 qt' }),
  temp: optional(temperature, { label: 'Temperature', example: '218 F' }),
  filterTemp: optional(temperature, { label: 'Filtered at', example: '192 F' }),
  filterMedium: freeText({ label: 'Filtered through', example: 'wool cone' }),
  vessel: freeText({ label: 'Into which vessel', example: 'stainless can 2' }),
  instruments: instrumentsField,
  by: withDefault(signature, '', { label: 'By', example: 'WE' }),
};

export const draws = kind({
  kind: 'draw',
  plural: 'draws',
  noun: 'draw-off',
  fields: drawFields,
  idFields: ['id'],
  prepare: async ({ reader, first }, { body }, before) => {
    const lot = await lookUpLot(reader, body.boil);
    const boil = lot && (await findLot(reader, lot.code));
    if (boil?.kind !== 'boil') return invalid('boil', 'a boil of this book', `"${body.boil}"`);
    // Packs are judged by where and how hot their boil's syrup was filtered: those of this boil, and those of the boil
    // the draw belonged to before.
    const judged = new Set([boil.code, before?.lot ?? boil.code]);
    const packs: Lot[] = [];
    for (const code of judged) packs.push(...ofKind(await lotsDownstream(reader, code), 'pack'));
    return {
      id: body.id,
      lot: boil.code,
      happenedAt: body.drawnAt,
      body: { ...body, boil: boil.code, by: body.by || first.by },
      about: [boil.code],
      judge: packs.map((pack) => pack.code),
      notes: [],
    };
  },
});
