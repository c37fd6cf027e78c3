import { z } from 'zod';
import type { Trace } from '#libs/actions/lots/trace-lot.js';
import { instant } from './instant.js';
import { jarSpan, lotStatus } from './lot-answers.js';

export const dispatchKind = z
  .enum(['sale', 'gift', 'sample', 'kept', 'retained', 'broken', 'destroyed', 'returned'])
  .meta({ id: 'DispatchKind' });

const jars = z
  .object({
    made: z.int(),
    onHand: z.int(),
    sentOut: z.int(),
    destroyed: z.int(),
    other: z.int(),
    unaccounted: z.int().nullable().meta({ description: 'Null until jars are counted' }),
  })
  .meta({ id: 'JarBalance', description: 'made = onHand + sentOut + destroyed + other + (unaccounted or 0)' });

const dispatch = z
  .object({
    id: z.string(),
    lot: z.string(),
    jars: z.int(),
    sentAt: instant,
    to: z.string(),
    kind: dispatchKind,
    contact: z.string(),
    planned: z.boolean().meta({ description: 'True for a planned dispatch' }),
    byCodes: z.boolean(),
    codes: z.array(z.string()).meta({ description: 'Jar codes as printed; empty where jars were only counted' }),
  })
  .meta({ id: 'TracedDispatch' });

export const traceAnswer = z
  .object({
    code: z.string(),
    kind: z.enum(['jar', 'pack', 'boil', 'sap']),
    pack: z.string().nullable(),
    jar: z
      .object({
        n: z.int(),
        printed: z.string(),
        dispatches: z.array(z.string()),
        maybeAmong: z
          .array(z.string())
          .meta({ description: 'Dispatches recorded as a number of jars, which may include this jar' }),
      })
      .exactOptional(),
    boils: z.array(z.string()),
    gatherings: z.array(z.string()),
    receipts: z.array(z.string()),
    packs: z.array(z.object({ lot: z.string(), container: z.string(), packedAt: instant, status: lotStatus, jars })),
    jars,
    syrupLitres: z.object({
      there: z.number(),
      left: z.number(),
      inJars: z.number(),
      spent: z.number(),
      lost: z.number(),
    }),
    dispatches: z.array(dispatch),
    actions: z.array(
      z.object({
        id: z.string(),
        lot: z.string(),
        way: z.enum(['destroyed', 'poured-back']),
        jars: z.string(),
        count: z.int(),
        at: instant,
        by: z.string(),
        done: z.string(),
      }),
    ),
    status: lotStatus,
    uncoveredJars: z.array(jarSpan),
    members: z
      .array(
        z.object({
          house: z.string(),
          prefix: z.string(),
          name: z.string(),
          receipt: z.string(),
          lot: z.string().nullable(),
          shown: z.string(),
          boils: z.array(z.string()),
          gatherings: z.array(z.string()),
        }),
      )
      .exactOptional(),
  })
  .meta({ id: 'Trace' }) satisfies z.ZodType<Trace>;
