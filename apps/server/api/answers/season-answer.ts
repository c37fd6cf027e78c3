import { z } from 'zod';
import { packFields } from '#libs/actions/kinds/pack.js';
import { declaredNames } from '#libs/actions/record/declared-texts.js';
import type { SeasonSummary } from '#libs/reports/season/json.js';
import { headAnswer } from './record-answers.js';
import { instant } from './instant.js';
import { colourName, jarSpan, lotStatus } from './lot-answers.js';

const text = z.string().nullable();
const count = z.int();

const summaryFinding = z.object({
  rule: z.string(),
  stop: z.boolean(),
  limit: z.string(),
  found: z.string(),
  source: z.string(),
  jars: text.exactOptional(),
  wayOut: text.exactOptional(),
  accepted: z.string().exactOptional(),
  offSale: z.string().exactOptional(),
});

const line = z
  .object({
    lot: z.string(),
    boils: z.array(z.string()),
    packedAt: instant,
    container: z.string(),
    jarsMade: count,
    jarsOnHand: count,
    jarsSentOut: count.meta({ description: 'Jars sent out less jars returned' }),
    jarsReturned: count,
    jarsDestroyed: count,
    jarsOther: count,
    unaccounted: count.nullable(),
    lowestFillF: z.number().nullable(),
    lowestFillTyped: text,
    brix: z.number().nullable(),
    colour: colourName.nullable(),
    syrupLitres: z.number(),
    status: lotStatus,
    lateEntries: count,
    findings: z.array(summaryFinding),
    product: text,
    boiled: z.array(z.object({ code: z.string(), kind: z.enum(['boil', 'receipt']), at: instant })),
    lowestFillBy: text,
    fillsReplaced: z.array(z.string()),
    uncoveredJars: z.array(jarSpan),
    densityJudged: z.object({ typed: z.string(), sampleTyped: text, by: text, again: z.boolean() }).nullable(),
    allergens: z.string(),
    sealsFailed: count.nullable(),
    otherAs: z.string(),
    sentTo: z.array(z.object({ place: z.string(), kind: z.string(), jars: count })),
    by: z.string(),
    // The pack fields that are declared with `inSummary`.
    ...Object.fromEntries(declaredNames(packFields, 'inSummary').map((name) => [name, text])),
  })
  .meta({ id: 'SeasonLot' });

const step = z.object({ at: instant, by: z.string(), words: z.string() });
const deviation = z
  .object({
    lot: z.string(),
    kind: z.enum(['rule', 'hold', 'recall', 'void']),
    rule: z.string(),
    found: z.string(),
    limit: z.string(),
    source: z.string(),
    jars: text,
    wayOut: text,
    foundAt: instant,
    foundBy: z.string(),
    heldAt: text,
    done: z.array(step),
    readAgain: z.array(z.string()),
    cleared: z.object({ at: instant, by: z.string(), through: z.string() }).nullable(),
    released: z.object({ at: instant, by: z.string(), why: z.string() }).nullable(),
    open: z.boolean(),
  })
  .meta({ id: 'Deviation' });

const verdictChange = z.object({
  lot: z.string(),
  at: instant,
  by: z.string(),
  why: text,
  record: z.string(),
  changes: z.array(z.object({ field: z.string(), was: text, now: text })),
  before: z.string(),
  after: z.string(),
});

export const seasonAnswer = z
  .object({
    year: count,
    lots: z.array(line),
    totals: z.object({
      boils: count,
      packs: count,
      jarsMade: count,
      syrupGallons: z.number(),
      held: count,
      released: count,
      recalled: count,
      sapGallons: z.number(),
      boilsWithoutSap: count,
      jarsOnHand: count,
      jarsSentOut: count,
      jarsReturned: count,
      jarsDestroyed: count,
      jarsOther: count,
      unaccounted: count.nullable(),
      lotsNotCounted: count,
      deviations: count,
      deviationsOpen: count,
      verdictChanges: count,
      lateEntries: count,
      complaints: count,
    }),
    record: headAnswer,
    deviations: z.array(deviation),
    corrections: z.array(verdictChange),
    risks: z.array(
      z.object({
        matter: z.enum(['lead', 'water', 'licence', 'training', 'instrument', 'cleaning']),
        of: z.string(),
        recorded: z.string(),
        asks: z.string(),
        subject: text,
      }),
    ),
    notRecorded: z.array(
      z.object({
        matter: z.string(),
        of: z.array(z.string()),
        jars: z.array(z.string()).exactOptional(),
        among: count,
      }),
    ),
  })
  .meta({ id: 'SeasonSummary' }) satisfies z.ZodType<SeasonSummary>;

export const yearsAnswer = z.object({ years: z.array(count) }).meta({ id: 'SeasonYears' });
