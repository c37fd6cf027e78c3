import type { PipeTransform } from '@nestjs/common';
import type { z } from 'zod';
import type { Fault } from '#libs/actions/record/problem.js';
import { plainMessage } from './plain-message.js';
import { Refused } from './refused.js';

/** `@Body(parseWith(newPack)) pack: NewPack`: a body of another shape is refused before the method runs. */
export function parseWith<T>(shape: z.ZodType<T>): PipeTransform<unknown, T> {
  return {
    transform(value) {
      const parsed = shape.safeParse(value ?? {}, { error: plainMessage });
      if (parsed.success) return parsed.data;
      throw new Refused({ kind: 'invalid', faults: parsed.error.issues.map((issue) => faultOf(issue, value)) });
    },
  };
}

function faultOf(issue: z.core.$ZodIssue, sent: unknown): Fault {
  const field = issue.path.map(String).join('.') || 'body';
  if (issue.code === 'unrecognized_keys')
    return { field: issue.keys[0] ?? field, expected: 'a field this takes', got: `a field ${issue.keys.join(', ')}` };
  let got = sent;
  for (const step of issue.path) got = (got as Record<PropertyKey, unknown> | undefined)?.[step];
  return {
    field,
    expected: issue.message,
    got: got === undefined ? 'nothing' : JSON.stringify(got).slice(0, 100),
  };
}
