import { z } from 'zod';
import type { Recall } from '#libs/reports/recall/recall.js';
import type { Call } from '#libs/reports/recall/recall-calls.js';
import type { Dispatch } from '#libs/reports/season/flow.js';
import { instant } from './instant.js';
import { lotStatus } from './lot-answers.js';
import { dispatchKind } from './trace-answer.js';

const dispatch = z
  .object({
    id: z.string(),
    lot: z.string(),
    jars: z.int(),
    jarCodes: z.array(z.string()),
    sentAt: instant,
    to: z.string(),
    kind: dispatchKind,
    how: z.string().nullable().meta({ description: 'How they were sent, as recorded; null where not recorded' }),
    contact: z.string().nullable(),
    telephone: z.string().nullable().exactOptional(),
    by: z.string().nullable(),
    alreadyLeft: z.boolean().exactOptional(),
    laboratory: z.boolean().exactOptional(),
    planned: z.boolean(),
  })
  .meta({ id: 'RecalledDispatch' }) satisfies z.ZodType<Dispatch>;

const recalledLot = z.object({
  lot: z.string(),
  packedAt: instant,
  container: z.string(),
  jarsMade: z.int(),
  jarsOnHand: z.int(),
  jarsSentOut: z.int(),
  jarsDestroyed: z.int(),
  jarsOther: z.int(),
  unaccounted: z.int().nullable(),
  boundBy: z.string(),
}) satisfies z.ZodType<Recall['lots'][number]>;

const sameSyrup = z.object({
  lot: z.string(),
  packedAt: instant,
  sources: z.array(z.string()).meta({ description: 'The codes of the lots that both were filled from' }),
  jarsMade: z.int(),
  state: lotStatus,
}) satisfies z.ZodType<Recall['sameSyrup'][number]>;

const call = z.object({
  to: z.string(),
  telephone: z.string().nullable(),
  contact: z.string().nullable(),
  jars: z.int().meta({ description: 'What they still have by the records: sent less returned' }),
  jarsReturned: z.int(),
  laboratory: z.boolean(),
  reached: z.boolean(),
  made: z.array(
    z.object({
      to: z.string(),
      at: instant,
      by: z.string(),
      telephone: z.string().nullable(),
      reached: z.boolean().nullable(),
      spokeTo: z.string().nullable(),
      keptApart: z.int().nullable(),
      note: z.string().nullable(),
    }),
  ),
}) satisfies z.ZodType<Omit<Call, 'sent' | 'returned'>>;

export const recallAnswer = z
  .object({
    from: z.string(),
    state: lotStatus,
    why: z.string(),
    hazard: z.object({
      hazard: z.string().nullable(),
      whoMayBeHurt: z.string().nullable(),
      whatToDo: z.string().nullable(),
    }),
    reach: z.string().meta({ description: 'A summary in one sentence: how many calls, jars and lots' }),
    lots: z.array(recalledLot),
    sameSyrup: z
      .array(sameSyrup)
      .meta({ description: 'Packs filled from the same boils, bought syrup or packs, and not on the list' }),
    calls: z.array(call),
    dispatches: z.array(dispatch),
    plans: z.array(dispatch).meta({ description: 'Planned dispatches, which must be cancelled' }),
    authorities: z.array(z.object({ name: z.string(), asksAbout: z.string(), contact: z.string().nullable() })),
  })
  .meta({ id: 'RecallReach' });
