import { z } from 'zod';
import type { Recorded } from '#libs/actions/record/record.js';
import type { Kind } from '#libs/actions/record/kind.js';
import type { Imported } from '#libs/actions/import/import-rows.js';
import type { Head } from '#libs/store/log/log.js';
import { instant } from './instant.js';
import { judgedFields } from './lot-answers.js';

export const headAnswer = z
  .object({
    entries: z.int(),
    root: z.string().meta({ description: 'The root of the Merkle tree over all entries, in lower-case hexadecimal' }),
  })
  .meta({ id: 'RecordHead' }) satisfies z.ZodType<Head>;

type FirstOutcome = Omit<Recorded, 'outcome' | 'first'> & { readonly outcome: Exclude<Recorded['outcome'], 'again'> };

/** What a repeated request is answered where the first answer is not kept: the outcome that the first had. */
export const withFirstOutcome = ({ first = 'new', outcome, ...done }: Recorded): FirstOutcome => ({
  ...done,
  outcome: outcome === 'again' ? first : outcome,
});

const recorded = z.object({
  entry: z.int().meta({ description: 'The number of the entry in the record log' }),
  id: z.string(),
  outcome: z.enum(['new', 'added', 'corrected', 'same']),
  notes: z.array(z.string()).meta({ description: 'Advisories about what was saved' }),
}) satisfies z.ZodType<FirstOutcome>;
export const recordedAnswer = recorded.meta({ id: 'Recorded' });

export const voidedAnswer = z
  .object({
    entry: z.int().meta({ description: 'The entry that voids the record' }),
    id: z.string(),
    lot: z.string().nullable().meta({ description: 'The lot that the record was about; null for a lot itself' }),
    outcome: z.literal('new'),
  })
  .meta({ id: 'Voided' });

/** A record of this kind: its fields as they were typed, under the names used in requests. */
export function recordAnswer(kind: Kind) {
  const fields = Object.entries(kind.fields).map(([name, field]) => {
    const value = field.list ? z.union([z.array(z.string()), z.number()]) : z.union([z.string(), z.number()]);
    return [name, value.exactOptional().meta({ description: field.label })] as const;
  });
  return z.object({ ...(Object.fromEntries(fields) as Record<string, z.ZodType>), ...storedFields(kind) });
}

/** The schema of a saved record together with what saving did: new, added, corrected or the same. */
export const recordAndOutcome = (kind: Kind) => recordAnswer(kind).extend(recorded.shape);

/** The schema of a page of a list: its items, how many there are in all, and the path of the next page. */
export const listAnswer = <T extends z.ZodType>(item: T) =>
  z.object({
    items: z.array(item),
    all: z.int().meta({ description: 'The number of records on all pages' }),
    next: z.string().nullable().meta({ description: 'The path of the next page; null on the last' }),
  });

const storedFields = (kind: Kind) => ({
  id: z.string(),
  ownId: z.string().exactOptional(),
  by: z.string(),
  at: 'at' in kind.fields ? z.string() : instant,
  entry: z.int().meta({
    description: 'The last entry about the record; send it as If-Match to refuse a change made in the meantime',
  }),
  ...(['gathering', 'receipt', 'boil', 'pack'].includes(kind.kind) ? optionalJudgedFields : {}),
});
/** A record that has not been judged as a lot has none of them. */
const optionalJudgedFields = {
  ...judgedFields,
  lot: judgedFields.lot.exactOptional(),
  status: judgedFields.status.exactOptional(),
};

export const importedAnswer = z
  .object({
    kind: z.string(),
    rows: z.int(),
    written: z.int(),
    corrected: z.int(),
    same: z.int().meta({ description: 'Rows that were already recorded with the same content' }),
    ids: z.array(z.string()),
    notes: z.array(z.string()),
    dryRun: z.boolean(),
    faults: z.array(z.never()),
    faultCount: z.literal(0),
    refusals: z.array(z.never()),
    refusalCount: z.literal(0),
  })
  .meta({ id: 'Imported' }) satisfies z.ZodType<Imported>;

const figure = z.union([
  z.number(),
  z.string(),
  z.boolean(),
  z.null(),
  z.array(z.record(z.string(), z.union([z.number(), z.string()]))),
]);
/** Figures by name, with the unit in the name, and the sentence that a person reads. */
export const calculatedAnswer = z
  .object({ sentences: z.array(z.string()), sources: z.array(z.string()) })
  .catchall(z.union([figure, z.array(z.string())]))
  .meta({ id: 'Calculated' });

export const calculatorsAnswer = z
  .object({
    questions: z.array(
      z.object({
        name: z.string(),
        title: z.string(),
        asks: z.array(
          z.object({
            name: z.string(),
            option: z.string(),
            label: z.string(),
            hint: z.string(),
            example: z.string(),
            required: z.boolean(),
            flag: z.boolean(),
            list: z.boolean(),
            choices: z.array(z.string()),
          }),
        ),
      }),
    ),
  })
  .meta({ id: 'Questions' });
