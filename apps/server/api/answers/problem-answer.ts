import { z } from 'zod';
import type { Fault } from '#libs/actions/record/problem.js';
import type { ProblemDetails } from '../../http/problem-details.js';

const fault = z.object({
  field: z.string(),
  expected: z.string(),
  got: z.string(),
  line: z.int().exactOptional().meta({ description: 'For an imported file: the line number; the header is line 1' }),
  column: z.string().exactOptional(),
}) satisfies z.ZodType<Fault>;

/** Every refusal of /api, as RFC 9457. */
export const problemAnswer = z
  .object({
    type: z.string().meta({ description: 'The kind of refusal; about:blank for an HTTP error' }),
    title: z.string(),
    status: z.int(),
    detail: z.string().meta({ description: 'What is wrong and what to do, in sentences' }),
    faults: z.array(fault).exactOptional(),
    faultsInAll: z
      .int()
      .exactOptional()
      .meta({ description: 'The number of all faults, where only the first hundred are listed' }),
    rule: z.string().exactOptional().meta({ description: 'The rule that refused it' }),
    entry: z
      .int()
      .exactOptional()
      .meta({ description: 'The last entry about the record, where it has changed since it was read' }),
    requestId: z.string().exactOptional(),
  })
  .meta({
    id: 'Problem',
    examples: [
      {
        type: 'urn:boilbook:problem:invalid',
        title: 'Not saved: check what was entered',
        status: 422,
        detail: 'volume: expected a volume like 12.5 gal, got "12.5".',
        faults: [{ field: 'volume', expected: 'a volume like 12.5 gal', got: '"12.5"' }],
      },
    ],
  }) satisfies z.ZodType<ProblemDetails>;
