import type { BoilBody } from '#libs/records/kinds/boil.js';
import { lotsDownstream, ofKind } from '#libs/store/queries/trace.js';
import {
  type PortionRequest,
  type BodyOf,
  density,
  signature,
  optional,
  pastMoment,
  moment,
  required,
  withDefault,
  ownId,
  portions,
  temperature,
  volume,
  freeText,
  instrumentsField,
} from '../record/fields.js';
import { kind, type PrepareContext } from '../record/kind.js';
import { nextBoilCode, parseOwnCode } from '../record/lot-code.js';
import { allocatePortions } from '../record/references.js';
import { boilTemperatureSentences } from '#libs/syrup/rules/judge-boil-record.js';
import { asNote, sapTimeNotes } from '../facts/boil-times.js';
import { boilTimeFaults } from '../judging/lot-time-order.js';
import type { Fault } from '../record/problem.js';

/** A boil, from lighting the fire to syrup in the can. Each boil is a lot. */
export const boilFields = {
  lot: optional(ownId, { label: 'Lot code', example: '26077A', hint: 'Leave blank for the next one' }),
  id: optional(ownId, { label: 'Your own id', example: 'B12' }),
  beganAt: required(pastMoment, { label: 'Began at', example: '2026-03-18T07:30' }),
  finishedAt: optional(pastMoment, { label: 'Finished at', example: '2026-03-18T20:00' }),
  gatherings: withDefault(portions, [] as readonly PortionRequest[], {
    label: 'Sap that went in',
    example: 'G041:80 gal',
    list: true,
    hint: 'Gatherings or bought sap. A blank amount means all that is left',
  }),
  carriedFrom: withDefault(portions, [] as readonly PortionRequest[], {
    label: 'Left in the pans from',
    example: '26076A:3 gal',
    list: true,
    hint: 'What an earlier boil left in the pans',
  }),
  sapVolume: optional(volume, { label: 'Sap boiled', example: '120 gal' }),
  sapSugar: optional(density, { label: 'Sugar of the sap', example: '2.1 Bx' }),
  waterBoilsAt: optional(temperature, { label: 'Water boils today at', example: '210.5 F' }),
  finishTemp: optional(temperature, { label: 'Drawn off at', example: '217.8 F' }),
  filterTemp: optional(temperature, { label: 'Filtered at', example: '190 F', hint: 'Hot: 185 °F or more' }),
  filterMedium: freeText({ label: 'Filtered through', example: 'wool cone and paper prefilter' }),
  defoamer: freeText({ label: 'Defoamer', example: 'sunflower oil', hint: 'none, or what was used' }),
  defoamerAllergens: freeText({
    label: 'Allergens in the defoamer',
    example: 'none',
    hint: 'Milk, nuts, soy … or none',
  }),
  restedFrom: optional(pastMoment, { label: 'Rested from', example: '2026-03-18T21:00' }),
  restedUntil: optional(moment, { label: 'Rested until', example: '2026-03-19T09:00' }),
  syrupVolume: required(volume, { label: 'Syrup made', example: '3 gal' }),
  instruments: instrumentsField,
  by: required(signature, { label: 'By', example: 'WE' }),
  note: freeText({ label: 'Note' }),
};

/** A boil in progress: how much it made is recorded when it ends. */
export const boilUnderwayFields = { ...boilFields, syrupVolume: optional(volume, boilFields.syrupVolume) };

type NewBoil = BodyOf<typeof boilUnderwayFields>;

const prepare = async (
  { reader, writeContext }: PrepareContext,
  { body }: { body: NewBoil },
  before: { readonly id: string; readonly ownId: string | undefined; readonly body: unknown } | undefined,
) => {
  const ownCode = body.lot === undefined || before ? undefined : parseOwnCode(body.lot, 'boil', body.beganAt);
  const faults: Fault[] = [...orderFaults(body), ...(ownCode && 'expected' in ownCode ? [ownCode] : [])];
  const code =
    before?.id ??
    (ownCode && 'code' in ownCode ? ownCode.code : await nextBoilCode(reader.sql, writeContext, body.beganAt));
  const into = before?.id ?? '';
  const sap = await allocatePortions(reader, 'gatherings', body.gatherings, ['gathering', 'receipt'], into);
  const carried = await allocatePortions(reader, 'carriedFrom', body.carriedFrom, ['boil'], into);
  faults.push(...sap.faults, ...carried.faults);
  if (before && (before.body as BoilBody).beganAt !== body.beganAt)
    faults.push(...(await boilTimeFaults(reader, code, body.beganAt)));
  if (faults.length > 0) return { problem: { kind: 'invalid' as const, faults } };

  const { lot: _lot, id: _id, ...input } = body;
  const prepared: BoilBody = { ...input, gatherings: sap.portions, carriedFrom: carried.portions };
  const packs = before ? ofKind(await lotsDownstream(reader, code), 'pack') : [];
  return {
    id: code,
    ownId: body.id ?? before?.ownId,
    happenedAt: body.finishedAt ?? body.beganAt,
    body: prepared,
    about: [code],
    judge: [code, ...packs.map((pack) => pack.code)],
    notes: [
      ...(ownCode && 'code' in ownCode ? ownCode.notes : []),
      ...sap.notes,
      ...(await sapTimeNotes(reader, { lot: code, finishedAt: body.finishedAt, gatherings: sap.portions })),
      ...boilTemperatureSentences(body).map(asNote),
    ],
  };
};

const declared = { kind: 'boil', plural: 'boils', noun: 'boil', idFields: ['lot', 'id'], prepare } as const;
export const boils = kind({ ...declared, fields: boilFields });
export const boilsUnderway = kind({ ...declared, fields: boilUnderwayFields });

/** Times out of order are typing mistakes: nothing ends before it began. */
function orderFaults(body: NewBoil): Fault[] {
  return [
    ...earlierFaults('finishedAt', body.finishedAt, 'the beginning', body.beganAt),
    ...earlierFaults('restedUntil', body.restedUntil, 'the rest began', body.restedFrom),
    ...earlierFaults('restedFrom', body.restedFrom, 'the boil began', body.beganAt),
  ];
}

function earlierFaults(field: string, at: string | undefined, what: string, earlier: string | undefined): Fault[] {
  if (at === undefined || earlier === undefined || Date.parse(at) >= Date.parse(earlier)) return [];
  return [{ field, expected: `a time after ${what}, ${earlier}`, got: `"${at}"` }];
}
