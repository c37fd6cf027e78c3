import { z } from 'zod';
import type { Fault } from '#libs/actions/record/problem.js';
import type { ProblemDetails } from '../../http/problem-details.js';

const fault = z.object({
  field: z.string(),
  expected: z.string(),
  got: z.string(),
  line: z.int().exactOptional().meta({ description: 'Of a file: its line, counted from 1 with the header' }),
  column: z.string().exactOptional(),
}) satisfies z.ZodType<Fault>;

/** Every refusal of /api, as RFC 9457. */
export const problemAnswer = z
  .object({
    type: z.string().meta({ description: 'A name for the kind of refusal; about:blank where HTTP itself refuses' }),
    title: z.string(),
    status: z.int(),
    detail: z.string().meta({ description: 'What to do about it, in sentences' }),
    faults: z.array(fault).exactOptional(),
    faultsInAll: z.int().exactOptional().meta({ description: 'How many, where only the first hundred are listed' }),
    rule: z.string().exactOptional().meta({ description: 'Of a refusal by a rule of the book' }),
    entry: z.int().exactOptional().meta({ description: 'The last entry about the record, where it has changed since' }),
    requestId: z.string().exactOptional(),
  })
  .meta({
    id: 'Problem',
    examples: [
      {
        type: 'urn:boilbook:problem:invalid',
        title: 'Not understood',
        status: 422,
        detail: 'volume: expected a volume like 12.5 gal, got "12.5".',
        faults: [{ field: 'volume', expected: 'a volume like 12.5 gal', got: '"12.5"' }],
      },
    ],
  }) satisfies z.ZodType<ProblemDetails>;
