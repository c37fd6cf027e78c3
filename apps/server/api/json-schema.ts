import type { ApiBodyOptions } from '@nestjs/swagger';
import { z } from 'zod';

type Described = Extract<ApiBodyOptions, { schema: unknown }>['schema'];

/** A zod shape as OpenAPI describes it. */
export function jsonSchema(shape: z.ZodType): Described {
  const {
    $schema: _,
    id: __,
    ...schema
  } = z.toJSONSchema(shape, { io: 'input', reused: 'inline' }) as Record<string, unknown>;
  return schema as Described;
}
