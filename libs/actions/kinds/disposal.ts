import type { DisposalBody, DisposalMethod } from '#libs/records/kinds/disposal.js';
import { drawnFrom, lotOfDisposal } from '#libs/store/queries/trace.js';
import { formatVolume } from '#libs/syrup/rules/judge-boils.js';
import type { Volume } from '#libs/syrup/quantities/quantities.js';
import {
  choice,
  optional,
  pastMoment,
  required,
  withDefault,
  ownId,
  signature,
  text,
  volume,
  freeText,
} from '../record/fields.js';
import { kind } from '../record/kind.js';
import { invalid, refused, type Refusal } from '../record/problem.js';
import { lookUpLot } from '../record/references.js';

export const disposalMethods = ['house', 'thrown-out', 'spilt', 'shrink'] as const satisfies readonly DisposalMethod[];

/**
 * Sap or syrup that went into no other lot: eaten at home, soured and thrown out, spilt, lost to cooling and filter
 * cloth.
 */
export const disposalFields = {
  id: optional(ownId, { label: 'Id', example: 'U03', hint: 'Leave blank for the next one' }),
  lot: required(text, { label: 'Lot', example: '26077A' }),
  how: required(choice(...disposalMethods), {
    label: 'What became of it',
    example: 'house',
    choices: disposalMethods,
    hint: 'house: used at home, not sold. shrink: lost in cooling, filtering and the kettle.',
  }),
  volume: optional(volume, { label: 'How much', example: '1 qt', hint: 'If blank: all that is left' }),
  at: optional(pastMoment, { label: 'When', example: '2026-03-21T07:00', hint: 'If blank, now' }),
  why: freeText({ label: 'Why', example: 'stood warm for three days, ropy' }),
  by: withDefault(signature, '', { label: 'By', example: 'WE' }),
};

export const disposals = kind({
  kind: 'spent',
  plural: 'spent',
  noun: 'disposal',
  fields: disposalFields,
  idFields: ['id'],
  prepare: async ({ reader, writeContext: context, houseContext, first }, { body }, before) => {
    const lot = await lookUpLot(reader, body.lot);
    if (!lot || lot.kind === 'pack')
      return invalid(
        'lot',
        'a gathering, a receipt or a boil of this book',
        lot ? `${lot.code}, whose jars are sent out or counted` : `"${body.lot}"`,
      );
    const at = body.at ?? first.at;
    if (Date.parse(at) > context.now.getTime()) return invalid('at', 'a time in the past', `"${at}"`);
    if (lot.millilitres === undefined)
      return invalid('lot', 'a boil whose syrup is recorded', `${lot.code}, whose syrup is not`);
    const others = await drawnFrom(reader, lot.code, before && lotOfDisposal(before.id));
    const amount = disposedAmount(
      lot.code,
      lot.millilitres,
      Math.max(0, lot.millilitres - others),
      body.volume,
      houseContext.place.canada,
    );
    if ('problem' in amount) return amount;
    const prepared: DisposalBody = { ...body, ...amount, lot: lot.code, at, by: body.by || first.by };
    return {
      id: body.id ?? before?.id ?? '',
      lot: lot.code,
      happenedAt: at,
      body: prepared,
      about: [lot.code],
      judge: [],
      notes: [],
    };
  },
});

/** How far a measured amount may exceed what is left before it is refused: common practice, no source. */
const measuringTolerance = 0.01;

function disposedAmount(
  lot: string,
  wholeMl: number,
  leftMl: number,
  input: Volume | undefined,
  litres: boolean,
): { typed: string; millilitres: number } | Refusal {
  if (!input)
    return leftMl < 1
      ? refused('nothing-left', `By the records, nothing is left of ${lot}.`)
      : { typed: '', millilitres: leftMl };
  const over = input.millilitres - leftMl;
  if (over <= measuringTolerance * wholeMl) return { typed: input.typed, millilitres: input.millilitres };
  return refused(
    'drawn-more-than-there',
    `${lot} has ${formatVolume(leftMl, litres)} left: ${input.typed} is ${formatVolume(over, litres)} more than that.`,
  );
}
