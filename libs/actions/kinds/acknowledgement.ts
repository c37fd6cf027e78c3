import type { AcknowledgementBody } from '#libs/records/kinds/acknowledgement.js';
import { findRecord, type StoredRecord, recordsOf } from '#libs/store/queries/lots.js';
import { movementsAlreadyLeft } from '#libs/store/queries/trace.js';
import { optional, moment, required, withDefault, ownId, signature, freeText } from '../record/fields.js';
import { kind } from '../record/kind.js';
import { invalid } from '../record/problem.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** A maker's initials on a report of jars that had already left. */
export const acknowledgementFields = {
  id: optional(ownId, { label: 'Id', hint: 'Leave blank for the next one' }),
  dispatch: required(ownId, { label: 'Dispatch', example: 'S0104' }),
  at: optional(moment, { label: 'When', example: '2026-05-03T09:00', hint: 'If blank, now' }),
  note: freeText({ label: 'What is being done about it', example: 'called the stall, 10 jars set apart' }),
  by: withDefault(signature, '', { label: 'By', example: 'OE' }),
};

export const acknowledgements = kind({
  kind: 'acknowledgement',
  plural: 'acknowledgements',
  noun: 'acknowledgement',
  fields: acknowledgementFields,
  idFields: ['id'],
  prepare: async ({ reader, first }, { body }, before) => {
    const dispatch = await findRecord(reader, 'dispatch', body.dispatch);
    if (dispatch?.body.alreadyLeft !== 'yes')
      return invalid('dispatch', 'a dispatch that was reported as already left', `"${body.dispatch}"`);
    const at = body.at ?? first.at;
    const { lot } = dispatch.body;
    return {
      id: body.id ?? before?.id ?? '',
      lot,
      happenedAt: at,
      body: { dispatch: dispatch.id, at, note: body.note, by: body.by || first.by } satisfies AcknowledgementBody,
      about: [lot],
      judge: [lot],
      notes: [],
    };
  },
});

export interface AlreadyLeft {
  readonly dispatch: StoredRecord<'dispatch'>;
  /** The latest initials on the current report; a report corrected since needs initials again. */
  readonly acknowledged: AcknowledgementBody | undefined;
}

/** Reports of jars that had already left, of one lot or of all, oldest first. */
export async function reportsAlreadyLeft(reader: SugarhouseReader, lot?: string): Promise<AlreadyLeft[]> {
  const movements = (await movementsAlreadyLeft(reader)).filter((each) => lot === undefined || each.lot === lot);
  if (movements.length === 0) return [];
  const acknowledgementRecords = await recordsOf(reader, 'acknowledgement');
  const reports: AlreadyLeft[] = [];
  for (const { id } of movements) {
    const dispatch = await findRecord(reader, 'dispatch', id);
    if (!dispatch) continue;
    const own = acknowledgementRecords.findLast((each) => each.body.dispatch === id && each.lastSeq > dispatch.lastSeq);
    reports.push({ dispatch, acknowledged: own?.body });
  }
  return reports;
}
