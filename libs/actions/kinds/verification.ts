import type { VerificationBody } from '#libs/records/kinds/verification.js';
import { optional, moment, required, withDefault, ownId, signature, text, freeText } from '../record/fields.js';
import { kind } from '../record/kind.js';
import { invalid } from '../record/problem.js';
import { lookUpLot } from '../record/references.js';

/** A second person has gone through a lot's records: its readings, its checks, what was held and why it was released. */
export const verificationFields = {
  id: optional(ownId, { label: 'Id', hint: 'Leave blank for the next one' }),
  lot: required(text, { label: 'Lot', example: '26077A-1' }),
  at: optional(moment, { label: 'When', example: '2026-03-20T09:00', hint: 'If blank, now' }),
  note: freeText({ label: 'What was looked at', example: 'fill sheet against the book, the check of T1' }),
  by: withDefault(signature, '', { label: 'By', example: 'JP' }),
};

export const verifications = kind({
  kind: 'verification',
  plural: 'verifications',
  noun: 'verification',
  fields: verificationFields,
  idFields: ['id'],
  prepare: async ({ reader, first }, { body }, before) => {
    const lot = await lookUpLot(reader, body.lot);
    if (lot?.kind !== 'boil' && lot?.kind !== 'pack')
      return invalid('lot', 'a boil or a pack of this book', `"${body.lot}"`);
    const at = body.at ?? first.at;
    return {
      id: body.id ?? before?.id ?? '',
      lot: lot.code,
      happenedAt: at,
      body: { lot: lot.code, at, note: body.note, by: body.by || first.by } satisfies VerificationBody,
      about: [lot.code],
      judge: [],
      notes: [],
    };
  },
});
