import { z } from 'zod';
import type { StatusChanged } from '#libs/actions/lots/change-status.js';
import type { StateExplanation } from '#libs/actions/lots/explain-state.js';
import type { JarSpan } from '#libs/syrup/jars/jar-spans.js';
import { rules } from '#libs/syrup/rules/rules.js';
import type { Finding, Verdict } from '#libs/syrup/rules/verdict.js';
import { instant } from './instant.js';

export const lotStatus = z.enum(['open', 'held', 'released', 'recalled']).meta({
  id: 'LotStatus',
  description:
    'open: no hold rule applies. held: must not leave. released: was held, then released by a person with a reason. recalled: for good',
});
export const colourName = z.enum(['Golden', 'Amber', 'Dark', 'Very Dark']).meta({ id: 'ColourName' });
export const jarSpan = z.object({ from: z.int(), to: z.int() }).meta({
  id: 'JarSpan',
  description: 'A range of jar numbers in the pack, both included',
}) satisfies z.ZodType<JarSpan>;

const acceptance = z.object({
  by: z.string(),
  at: instant,
  why: z.string(),
  authority: z.string().optional(),
  askedAt: z.string().optional(),
  answer: z.string().optional(),
});

const takenOffSale = z.object({
  how: z.enum(['destroyed', 'poured-back-or-destroyed']),
  by: z.string().optional(),
  at: instant.optional(),
});

export const finding = z
  .object({
    rule: z.string(),
    stop: z
      .boolean()
      .meta({ description: 'True where the finding holds the lot; false for an advisory, which never does' }),
    limit: z.string(),
    found: z.string(),
    source: z.string(),
    jars: z.array(jarSpan).optional(),
    wayOut: z.string().optional().meta({ description: 'What clears the finding' }),
    about: z.string().optional(),
    accepted: acceptance.optional(),
    offSale: takenOffSale
      .optional()
      .meta({ description: 'Every jar was taken off sale: it no longer holds, and no release accepted it' }),
  })
  .meta({ id: 'Finding' }) satisfies z.ZodType<Finding>;

const temperature = z.object({
  typed: z.string(),
  unit: z.enum(['F', 'C']),
  degrees: z.number(),
  celsius: z.number(),
});

export const verdict = z
  .object({
    findings: z.array(finding),
    rules: z.string().meta({ description: 'The place and the version of the rules' }),
    brix: z
      .number()
      .nullable()
      .meta({ description: 'True mass percent at 20 °C; null where no reading could be judged' }),
    brixUncertainty: z.number().nullable(),
    lowestFill: temperature.nullable(),
    colour: colourName.nullable(),
    colourTyped: z.string().nullable(),
    allergens: z.array(z.string()),
    heldJars: z.array(jarSpan).optional(),
    uncovered: z.array(jarSpan).optional(),
    gone: z.array(jarSpan).optional(),
    unsealed: z.array(jarSpan).optional(),
    awaitsRelease: z.string().optional(),
  })
  .meta({ id: 'Verdict' }) satisfies z.ZodType<Verdict>;

/** The last verdict on a lot: absent where nothing was judged yet. */
export const judgedFields = {
  lot: z.string(),
  status: lotStatus,
  findings: z.array(finding).exactOptional(),
  brix: verdict.shape.brix.exactOptional(),
  colour: verdict.shape.colour.exactOptional(),
  rules: verdict.shape.rules.exactOptional(),
};

export const lotAnswer = z
  .object({
    ...judgedFields,
    state: lotStatus.meta({ description: 'The same as status' }),
    kind: z.enum(['gathering', 'receipt', 'boil', 'pack']),
    at: instant,
    entry: z.int(),
  })
  .meta({ id: 'Lot' });

const signed = z.object({ by: z.string(), at: instant, words: z.string(), alsoFilled: z.boolean() });
export const whyAnswer = z
  .object({
    lot: z.string(),
    kind: z.enum(['pack', 'boil']),
    status: lotStatus,
    rules: z.array(
      z.object({
        rule: z.enum(rules.map((rule) => rule.name) as [(typeof rules)[number]['name']]),
        asks: z.string(),
        state: z.enum(['met', 'no-limit', 'not-recorded', 'accepted', 'off-sale', 'holds']),
        because: z.array(z.string()),
        notRecorded: z.array(z.string()),
      }),
    ),
    signatures: z.object({
      filledBy: z.array(z.string()),
      releases: z.array(signed),
      verifications: z.array(signed),
    }),
  })
  .meta({ id: 'WhyLotStands' }) satisfies z.ZodType<StateExplanation>;

export const markedAnswer = z
  .object({
    entry: z.int(),
    lot: z.string(),
    packs: z.array(z.string()).meta({ description: 'The packs whose status changed' }),
    outcome: z.enum(['new', 'same']),
  })
  .meta({ id: 'Marked' }) satisfies z.ZodType<Omit<StatusChanged, 'outcome'>>;

export const jarsAnswer = z
  .object({ lot: z.string(), jars: z.array(z.object({ n: z.int(), code: z.string() })) })
  .meta({ id: 'JarCodes' });

export const printedAnswer = z
  .object({
    lot: z.string(),
    stock: z.string(),
    from: z.int(),
    to: z.int(),
    leftOut: z.array(jarSpan).meta({ description: 'Held jars, for which no label is printed' }),
    labels: z.int(),
    pages: z.int(),
    endedAt: z.int().meta({ description: 'Number of labels used on the last sheet' }),
    reprinted: z.boolean(),
    pdf: z.string().meta({ description: 'The path of the PDF' }),
    said: z.array(z.string()),
    warnings: z.array(z.string()),
  })
  .meta({ id: 'PrintedLabels' });
