import type { PipeTransform } from '@nestjs/common';
import { Refused } from '../http/refused.js';

/** A body must be a JSON object; its fields are read, and every fault named, by the action itself. */
export const jsonObject: PipeTransform<unknown, Record<string, unknown>> = {
  transform(value) {
    if (typeof value === 'object' && value !== null && !Array.isArray(value)) return { ...value };
    throw new Refused({
      kind: 'invalid',
      faults: [{ field: 'body', expected: 'a JSON object', got: typeName(value) }],
    });
  },
};

const typeName = (value: unknown): string =>
  value === undefined || value === null ? 'nothing' : Array.isArray(value) ? 'a list' : `a ${typeof value}`;
