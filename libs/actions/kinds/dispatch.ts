import { balanceOf } from '#libs/store/queries/jar-balance.js';
import type { DispatchBody } from '#libs/records/kinds/dispatch.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { hasMoved, movementsOf } from '#libs/store/queries/trace.js';
import { utcOf } from '#libs/store/connection/instants.js';
import {
  choice,
  count,
  signature,
  moment,
  required,
  withDefault,
  ownId,
  optional,
  text,
  freeText,
  type BodyOf,
} from '../record/fields.js';
import { codeFaults, codesByNumber, jarsOrCodes } from '../jars/jar-selection.js';
import { countSetApart } from '../jars/returned-jars-apart.js';
import { kind, type PrepareContext } from '../record/kind.js';
import { isForEating } from '../jars/jars-leaving.js';
import { contradictionNotes } from '../judging/dispatch-findings.js';
import { refuseDispatch } from '../jars/dispatch-clearance.js';
import { invalid, refused, type Refusal } from '../record/problem.js';
import { dispatchFaults } from './dispatch-faults.js';
import { alreadySentNotes, destroyedByCountNotes, heldJarsNotes } from './dispatch-notes.js';
import { lookUpLot } from '../record/references.js';
import { momentIn } from '../record/times.js';

export const dispatchKinds = ['sale', 'gift', 'sample', 'kept', 'retained', 'broken', 'destroyed', 'returned'] as const;

/** Jars that leave the shelf or are returned: sold, given, retained, broken, destroyed, returned. */
export const dispatchFields = {
  id: optional(ownId, { label: 'Id', example: 'S104', hint: 'Leave blank for the next one' }),
  lot: required(text, { label: 'Lot', example: '26077A-1' }),
  jars: required(jarsOrCodes, {
    label: 'Jars',
    example: '12',
    list: true,
    hint: 'How many, or the codes of the jars, or their numbers like jars 13-24',
  }),
  sentAt: required(moment, {
    label: 'When',
    example: '2026-05-02T09:00',
    hint: 'A time in the future makes it a plan',
  }),
  to: required(text, {
    label: 'To whom or where',
    example: 'Millrace Green market',
    hint: 'Of broken or destroyed jars: what happened to them',
  }),
  kind: withDefault(choice(...dispatchKinds), 'sale', {
    label: 'How',
    example: 'sale',
    choices: dispatchKinds,
    hint: 'Kept: for your own use. Retained: a sample of the lot, stored for later checks',
  }),
  contact: freeText({ label: 'How to reach them', example: 'stall 4' }),
  telephone: optional(text, {
    label: 'Telephone',
    example: '802 555 0142',
    hint: 'Used for the call list of a recall',
  }),
  alreadyLeft: optional(choice('yes', 'no'), {
    label: 'They have already left',
    choices: ['yes', 'no'],
    hint: 'Only for jars of a held or recalled lot that are already gone: it is recorded as a deviation and needs a maker’s initials',
  }),
  laboratory: optional(choice('yes', 'no'), {
    label: 'To a laboratory',
    choices: ['yes', 'no'],
    hint: 'A sample for testing may be sent from a held lot too',
  }),
  sealed: optional(count, {
    label: 'Returned: how many are still sealed',
    example: '4',
    hint: 'Until somebody inspects them, returned jars are set apart and not sold again',
  }),
  keptHow: optional(choice('cold', 'warm', 'not-known'), {
    label: 'Returned: how they were kept',
    choices: ['cold', 'warm', 'not-known'],
  }),
  lookedAt: optional(moment, {
    label: 'Returned: when they were inspected',
    example: '2026-05-03T18:00',
    hint: 'If blank: when they were returned if recorded at once, else now',
  }),
  fromReturned: optional(count, {
    label: 'Of these, jars returned earlier',
    example: '2',
    hint: 'Not needed with jar codes',
  }),
  by: withDefault(signature, '', { label: 'By', example: 'JP' }),
};
export type NewDispatch = BodyOf<typeof dispatchFields>;

export const dispatches = kind({
  kind: 'dispatch',
  plural: 'dispatches',
  noun: 'dispatch',
  fields: dispatchFields,
  idFields: ['id'],
  prepare: async (at, { body: typed }, before) => {
    const previous = before && { id: before.id, at: before.at, body: before.body as DispatchBody };
    const found = await findDispatchedJars(at, typed, previous);
    if ('problem' in found) return found;
    const { lot, body } = found;
    const plan = Date.parse(body.sentAt) > at.writeContext.now.getTime();
    const refusal =
      refuseContradictions(lot, body, previous, plan) ?? (await refuseLeaving(at, lot.code, body, previous, plan));
    if (refusal) return refusal;
    return {
      id: body.id ?? previous?.id ?? '',
      lot: lot.code,
      happenedAt: body.sentAt,
      body: await dispatchBody(at, lot.code, body, previous),
      about: [lot.code],
      judge: [lot.code],
      notes: [
        ...(await alreadySentNotes(at, body.jars.codes, body.kind, previous?.id)),
        ...(plan || previous ? [] : await contradictionNotes(at.reader, lot, movementOf(body), at.writeContext.now)),
        ...(previous && !plan ? await heldJarsNotes(at, lot, { ...body, codes: body.jars.codes }) : []),
        ...(body.kind === 'destroyed' && body.jars.codes.length === 0 ? destroyedByCountNotes(lot) : []),
      ],
    };
  },
});

/** A dispatch as it was before a correction. */
interface PreviousDispatch {
  readonly id: string;
  readonly at: string;
  readonly body: DispatchBody;
}

/** The pack that was typed, and the dispatch with its jars' numbers replaced by their codes. */
async function findDispatchedJars(
  at: PrepareContext,
  typed: NewDispatch,
  previous: PreviousDispatch | undefined,
): Promise<{ readonly lot: Lot; readonly body: NewDispatch } | Refusal> {
  const lot = await lookUpLot(at.reader, typed.lot);
  if (lot?.kind !== 'pack') return invalid('lot', 'a pack of this book', `"${typed.lot}"`);
  const jars = await codesByNumber(at, lot, typed.jars);
  if ('problem' in jars) return jars;
  if (jars.jars === 0 && !previous) return invalid('jars', 'at least one jar', '"0"');
  const faults = await codeFaults(at, lot.code, jars.codes);
  if (faults.length > 0) return { problem: { kind: 'invalid', faults } };
  return { lot, body: { ...typed, jars } };
}

/** Refuses what contradicts itself or the pack; a correction may keep an impossible time that an old book has. */
function refuseContradictions(
  lot: Lot,
  body: NewDispatch,
  previous: PreviousDispatch | undefined,
  plan: boolean,
): Refusal | undefined {
  const packedOn = lot.at.slice(0, 10);
  if (body.sentAt.slice(0, 10) < packedOn && previous?.at !== body.sentAt)
    return invalid('sentAt', `a day on or after ${packedOn}, when ${lot.code} was packed`, `"${body.sentAt}"`);
  const faults = dispatchFaults(body, plan);
  return faults.length > 0 ? { problem: { kind: 'invalid', faults } } : undefined;
}

/** Refuses jars that may not leave, unless they have already left, and a plan for more jars than there are. */
async function refuseLeaving(
  at: PrepareContext,
  lot: string,
  body: NewDispatch,
  previous: PreviousDispatch | undefined,
  plan: boolean,
): Promise<Refusal | undefined> {
  const { reader, houseContext } = at;
  const { jars, codes } = body.jars;
  const saved = previous && (await movementsOf(reader, [previous.body.lot])).find((each) => each.id === previous.id);
  const hadMoved = saved !== undefined && hasMoved(saved, utcOf(at.writeContext.now));
  if (body.alreadyLeft !== 'yes' && (plan || movesMore(body, lot, previous?.body, hadMoved))) {
    const refusal = await refuseDispatch(
      { ...reader, houseContext, at: body.sentAt, exceptDispatch: previous?.id },
      lot,
      { kind: body.kind, laboratory: body.laboratory === 'yes', jars, codes, id: previous?.id, sentAt: body.sentAt },
    );
    if (refusal) return refusal;
  }
  return plan ? refusePlan(at, lot, body, previous?.id) : undefined;
}

/** The dispatch as it is stored: who inspected returned jars, and how many leave that had been returned. */
async function dispatchBody(
  at: PrepareContext,
  lot: string,
  body: NewDispatch,
  previous: PreviousDispatch | undefined,
): Promise<DispatchBody> {
  const { jars, codes } = body.jars;
  const apart = await countSetApart(at.reader, body.kind === 'returned' ? [] : codes, {
    except: previous?.id,
    nowUtc: utcOf(at.writeContext.now),
  });
  return {
    lot,
    jars,
    codes,
    sentAt: body.sentAt,
    to: body.to,
    kind: body.kind,
    contact: body.contact,
    telephone: body.telephone,
    alreadyLeft: body.alreadyLeft === 'yes' ? 'yes' : undefined,
    laboratory: body.laboratory === 'yes' ? 'yes' : undefined,
    fromReturned: body.fromReturned ?? (apart > 0 ? apart : undefined),
    sealed: body.sealed,
    keptHow: body.keptHow,
    ...inspectionOf(at, body, previous?.body),
    by: body.by || at.first.by,
  };
}

const movementOf = ({ kind: how, jars: { jars }, sentAt, fromReturned = 0 }: NewDispatch) => ({
  kind: how,
  jars,
  sentUtc: utcOf(sentAt),
  fromReturned,
});

/** A plan may not promise more jars than there are. */
async function refusePlan(
  at: PrepareContext,
  lot: string,
  body: NewDispatch,
  id?: string,
): Promise<Refusal | undefined> {
  const { reader, writeContext: context } = at;
  if (body.kind === 'returned') return undefined;
  const now = utcOf(context.now);
  const balance = await balanceOf(reader, lot, now);
  const planned = (await movementsOf(reader, [lot]))
    .filter((each) => !hasMoved(each, now) && each.id !== id)
    .reduce((sum, each) => sum + (each.kind === 'returned' ? -each.jars : each.jars), 0);
  const left = balance.onHand - planned;
  if (body.jars.jars <= left) return undefined;
  const promised = planned > 0 ? `, with ${planned} already planned` : '';
  return refused(
    'not-that-many',
    `${lot} has ${balance.onHand} ${balance.onHand === 1 ? 'jar' : 'jars'} on hand${promised}: ${body.jars.jars} is ${body.jars.jars - left} too many.`,
  );
}

/**
 * A correction that moves no more jars than the record already had is accepted whatever the lot's status: a buyer's
 * name can be corrected in a recall too. A plan, or a plan that a hold stopped, has moved nothing yet.
 */
function movesMore(body: NewDispatch, lot: string, before: DispatchBody | undefined, hadMoved: boolean): boolean {
  if (!before || before.lot !== lot || !hadMoved) return true;
  if (!isForEating({ kind: before.kind, laboratory: before.laboratory === 'yes' })) return true;
  if (before.alreadyLeft === 'yes' && body.alreadyLeft !== 'yes') return true;
  return (
    body.jars.jars > before.jars ||
    body.jars.codes.some((code) => before.codes.length > 0 && !before.codes.includes(code))
  );
}

/** Who inspected returned jars and when; by default the time of the return, where both are recorded at once. */
function inspectionOf(at: PrepareContext, body: NewDispatch, before: DispatchBody | undefined) {
  if (body.sealed === undefined) return {};
  if (!body.lookedAt && before?.lookedAt && before.sealed === body.sealed && before.keptHow === body.keptHow)
    return { lookedAt: before.lookedAt, lookedBy: before.lookedBy };
  const lookedAt =
    body.lookedAt ?? (before ? momentIn(at.houseContext.parseOptions.zone, at.writeContext.now) : body.sentAt);
  return { lookedAt, lookedBy: before ? at.writeContext.by : body.by || at.writeContext.by };
}
