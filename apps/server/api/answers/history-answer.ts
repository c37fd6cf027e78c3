import { z } from 'zod';
import { kindByName } from '#libs/actions/kinds/registry.js';
import type { HistoryView } from '../history-view.js';
import { instant } from './instant.js';
import { lotStatus, verdict } from './lot-answers.js';

/** JSON omits undefined fields. */
type WithOptionalEnteredBy<T extends { enteredBy: unknown }> = Omit<T, 'enteredBy'> & Partial<Pick<T, 'enteredBy'>>;

const historyLine = z
  .object({
    entry: z.int().meta({ description: 'The number of the entry in the record log, from 1' }),
    deed: z.enum(['record', 'add', 'correct', 'hold', 'act', 'release', 'recall', 'void', 'photo']),
    by: z.string(),
    enteredBy: z.string().optional().meta({ description: 'Who entered it, where not the person in `by`' }),
    happenedAt: instant,
    typedAt: instant,
    about: z.array(z.string()),
    record: z
      .object({ kind: z.enum([...kindByName.keys()]), id: z.string(), typed: z.record(z.string(), z.string()) })
      .exactOptional(),
    judged: z
      .array(
        z.object({
          lot: z.string(),
          state: lotStatus,
          heldSince: z.string().optional(),
          verdict: verdict.optional(),
        }),
      )
      .exactOptional(),
    jars: z.object({ from: z.int(), count: z.int() }).exactOptional(),
    corrects: z.int().exactOptional(),
    why: z.string().exactOptional(),
    from: z.string().exactOptional(),
  })
  .meta({ id: 'HistoryLine' }) satisfies z.ZodType<WithOptionalEnteredBy<HistoryView>>;

export const historyAnswer = z.object({ lot: z.string(), entries: z.array(historyLine) }).meta({ id: 'History' });
