import {
  density,
  signature,
  optional,
  pastMoment,
  required,
  withDefault,
  ownId,
  text,
  volume,
  freeText,
} from '../record/fields.js';
import { kind } from '../record/kind.js';
import { lotsDownstream, ofKind } from '#libs/store/queries/trace.js';

/** Bought sap or syrup, or a neighbour's: a lot with one step back to its maker. */
export const receiptFields = {
  id: required(ownId, { label: 'Id', example: 'R003', hint: 'Your own number for what came in' }),
  supplier: required(text, { label: 'From whom', example: 'Bracken Lane Sugarbush' }),
  contact: required(text, { label: 'How to reach them', example: 'Bracken Lane, Harrow Notch' }),
  theirLot: freeText({ label: 'Their lot', example: 'BL-12' }),
  volume: required(volume, { label: 'How much', example: '40 gal' }),
  density: optional(density, { label: 'Density', example: '66.9 Bx', hint: 'Sap is about 2 °Bx, syrup 66 and more' }),
  allergens: freeText({
    label: 'Allergens of the syrup',
    example: 'none',
    hint: 'As its maker answers, the defoamer included; “none” is an answer. Leave blank for sap',
  }),
  receivedAt: required(pastMoment, { label: 'Received at', example: '2026-03-20T09:00' }),
  by: withDefault(signature, '', { label: 'By', example: 'OE' }),
};

export const receipts = kind({
  kind: 'receipt',
  plural: 'receipts',
  noun: 'receipt',
  fields: receiptFields,
  idFields: ['id'],
  prepare: async ({ reader, first }, { body }, before) => ({
    id: body.id,
    happenedAt: body.receivedAt,
    body: { ...body, by: body.by || first.by },
    about: [body.id],
    // Packs that were waiting for the supplier's answer.
    judge: before ? ofKind(await lotsDownstream(reader, body.id), 'pack').map(({ code }) => code) : [],
    notes: [],
  }),
});
