import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import { findRecord, type Lot } from '#libs/store/queries/lots.js';
import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';
import { jarsInSpans, type NamedJars, parseJarSpans } from '#libs/syrup/jars/jar-spans.js';
import { withReadingTimes } from '#libs/syrup/quantities/reading-time.js';
import {
  choice,
  count,
  fillReadings,
  signature,
  optional,
  pastMoment,
  required,
  withDefault,
  ownId,
  text,
  freeText,
} from '../record/fields.js';
import { kind, type PrepareContext } from '../record/kind.js';
import { packFields, sealsCountedAt } from './pack.js';
import { momentIn } from '../record/times.js';
import { type Fault, invalid, type Refusal } from '../record/problem.js';
import { repeatedReadingFaults, readingTimeFaults } from '../facts/reading-times.js';
import { lookUpLot } from '../record/references.js';
import { countJarsPouredOn } from '../facts/glass-upstream.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { clearsJars } from '../facts/pack-after-actions.js';
import { packsOfSameBoils } from '../facts/spoilage-facts.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** What makers do with a lot that may not be sold as it is. */
export const actionMethods = [
  'reheated-and-repacked',
  'poured-back',
  'inspected',
  'filtered-again',
  'relabelled',
  'held-for-test',
  'destroyed',
  'other',
] as const;

/** The usual causes; any other is typed as text. */
export const actionCauses = ['cold-jar', 'slow-filling', 'thermometer', 'syrup-too-cool'] as const;

/**
 * A corrective action: what was found, what was done, and the new readings that show it worked. The pack is judged
 * again by the new readings; the old ones stay in the record.
 */
export const actionFields = {
  id: optional(ownId, { label: 'Id' }),
  lot: required(text, { label: 'Lot', example: '26077A-1' }),
  at: optional(pastMoment, { label: 'When', example: '2026-03-19T15:00', hint: 'If blank, now' }),
  found: required(text, { label: 'What was found', example: 'third jar at 178 F' }),
  way: optional(choice(...actionMethods), { label: 'What kind of action', choices: actionMethods }),
  done: required(text, { label: 'What was done', example: 'reheated to 195 F, packed again in fresh boiled jars' }),
  jars: optional(parseJarSpans, {
    label: 'Which jars',
    example: '13-18',
    hint: 'An action that names no jars does not clear a hold',
  }),
  cause: freeText({
    label: 'Cause',
    example: 'cold-jar',
    suggestions: actionCauses,
    hint: 'An action without a cause does not clear a hold',
  }),
  hotPackTemp: packFields.hotPackTemp,
  fillTemps: withDefault(fillReadings, [] as readonly FillReading[], packFields.fillTemps),
  densityReading: packFields.densityReading,
  densityAt: packFields.densityAt,
  densityBy: packFields.densityBy,
  densityCalibratedAt: packFields.densityCalibratedAt,
  instruments: packFields.instruments,
  sealsFailed: packFields.sealsFailed,
  sealsOutcome: packFields.sealsOutcome,
  sealsAt: packFields.sealsAt,
  clarity: packFields.clarity,
  offFlavour: packFields.offFlavour,
  defoamerAllergens: freeText({ label: 'Allergens in the defoamer', example: 'none' }),
  mould: packFields.mould,
  jarsMouldy: optional(count, {
    label: 'Other jars looked at that were mouldy',
    example: '1',
    hint: '0 if none failed',
  }),
  jarsSound: optional(count, { label: 'Other jars looked at that were sound', example: '11' }),
  by: withDefault(signature, '', { label: 'By', example: 'WE' }),
};

export const actions = kind({
  kind: 'action',
  plural: 'actions',
  noun: 'corrective action',
  fields: actionFields,
  idFields: ['id'],
  prepare: async ({ reader, writeContext: context, houseContext, first }, { body }, before) => {
    const lot = await lookUpLot(reader, body.lot);
    if (!lot || (lot.kind !== 'pack' && lot.kind !== 'boil'))
      return invalid('lot', 'a boil or a pack of this book', `"${body.lot}"`);
    const jarsMade = lot.kind === 'pack' ? (lot.jars ?? 0) : 0;
    const spanBeyondPack = body.jars?.spans.find(({ to }) => lot.jars !== undefined && to > lot.jars);
    if (spanBeyondPack)
      return invalid('jars', `jar numbers from 1 to ${jarsMade}, the jars of ${lot.code}`, `"${body.jars?.typed}"`);
    const at = body.at ?? first.at;
    const tooEarly = await refuseBeforePacking(reader, lot, at);
    const refusal = tooEarly ?? (await refuseEmptiedJars(reader, lot, { ...body, at }));
    if (refusal) return refusal;
    const previousReadings = (before?.body as ActionBody | undefined)?.fillTemps;
    const faults = await actionReadingFaults({ reader, houseContext }, lot, { ...body, at }, previousReadings);
    if (faults.length > 0) return { problem: { kind: 'invalid', faults } };
    const prepared: ActionBody = {
      ...body,
      ...sealsCountedAt(
        body,
        before?.body as ActionBody | undefined,
        momentIn(houseContext.parseOptions.zone, context.now),
      ),
      jars: body.jars && { ...body.jars, count: body.jars.all ? jarsMade : jarsInSpans(body.jars.spans) },
      lot: lot.code,
      at,
      by: body.by || first.by,
    };
    return {
      id: body.id ?? before?.id ?? '',
      lot: lot.code,
      happenedAt: at,
      body: prepared,
      about: [lot.code],
      judge: body.jarsMouldy ? await packsOfSameBoils(reader, lot.code) : [lot.code],
      notes: lot.kind === 'pack' ? actionNotes(prepared) : [],
    };
  },
});

/**
 * Nothing can be done about jars that are not filled yet: one of the two times is a mistake, and only the writer knows
 * which.
 */
async function refuseBeforePacking(reader: SugarhouseReader, lot: Lot, at: string): Promise<Refusal | undefined> {
  if (lot.kind !== 'pack') return undefined;
  const packedAt = (await findRecord(reader, 'pack', lot.code))?.body.packedAt;
  if (packedAt === undefined || Date.parse(at) >= Date.parse(packedAt)) return undefined;
  const when = packedAt.slice(0, 16).replace('T', ' ');
  return invalid('at', `a time after ${lot.code} was packed (${when}); if that time is wrong, correct the pack`, at);
}

/**
 * Jars near broken glass whose syrup was poured into another pack can be neither inspected nor destroyed: the splinters
 * are in that pack. Which jars were poured isn't recorded, so those named must be among as many as are left.
 */
async function refuseEmptiedJars(
  reader: SugarhouseReader,
  lot: Lot,
  { way, jars, at }: Pick<ActionBody, 'way' | 'at'> & { readonly jars?: NamedJars | undefined },
): Promise<Refusal | undefined> {
  if (lot.kind !== 'pack' || !jars || (way !== 'inspected' && way !== 'destroyed')) return undefined;
  const pack = (await findRecord(reader, 'pack', lot.code))?.body;
  if (!pack?.brokenGlass || pack.jars === undefined) return undefined;
  const poured = await countJarsPouredOn(reader, lot.code, {
    jarMl: pack.container.volume.millilitres,
    untilUtc: utcOf(at),
  });
  const left = Math.max(0, pack.jars - poured);
  if (poured === 0 || (jars.all ? left > 0 : jarsInSpans(jars.spans) <= left)) return undefined;
  return invalid(
    'jars',
    `at most the ${left} jars of ${lot.code} that were left at that time: ${poured} were poured into another pack, which holds their splinters. Record there what was done with it`,
    `"${jars.typed}"`,
  );
}

/** New readings must be later than the filling of the jars and earlier than now. */
async function actionReadingFaults(
  { reader, houseContext }: Pick<PrepareContext, 'reader' | 'houseContext'>,
  lot: Lot,
  {
    fillTemps,
    at,
    jars,
    way,
  }: Pick<ActionBody, 'fillTemps' | 'at' | 'way'> & { readonly jars?: NamedJars | undefined },
  previousReadings: readonly FillReading[] | undefined,
): Promise<Fault[]> {
  const pack = lot.kind === 'pack' ? (await findRecord(reader, 'pack', lot.code))?.body : undefined;
  const faults = readingTimeFaults(
    fillTemps,
    { at, packedAt: pack?.packedAt ?? lot.at },
    houseContext.parseOptions,
    previousReadings,
  );
  if (faults.length > 0 || !pack || !jars || way === 'inspected') return faults;
  return repeatedReadingFaults(
    withReadingTimes(fillTemps, at),
    withReadingTimes(pack.fillTemps, pack.packedAt),
    previousReadings,
  );
}

/** Notes on what an action doesn't do by itself, and how it changes the count of jars. */
function actionNotes(action: ActionBody): string[] {
  if (!clearsJars(action)) {
    const missing = [...(action.jars ? [] : ['jars']), ...((action.cause ?? '').trim() ? [] : ['the cause'])];
    return [
      `Saved, but it does not clear the hold: ${missing.join(' and ')} not written. Add ${missing.length > 1 ? 'them' : 'it'} by a correction of the action.`,
      ...(action.way === 'destroyed' ? [countDestroyed(action.lot)] : []),
    ];
  }
  if (action.way !== 'destroyed' && action.way !== 'poured-back') return [];
  const how = action.way === 'destroyed' ? 'destroyed' : 'poured back';
  return [
    `The balance counts the jars of ${action.lot} named here (${action.jars?.typed}) as ${how}: don’t record them as sent out too.`,
  ];
}

/**
 * An action without jars only records what was done; destroyed jars are then counted by a dispatch, as any other jars
 * that leave.
 */
const countDestroyed = (lot: string): string =>
  `Record the destroyed jars of ${lot} as sent out, kind destroyed, by code or by number: the balance counts them there.`;
