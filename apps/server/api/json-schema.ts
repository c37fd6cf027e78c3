import { applyDecorators } from '@nestjs/common';
import { type ApiBodyOptions, ApiQuery } from '@nestjs/swagger';
import { z } from 'zod';

type Described = Extract<ApiBodyOptions, { schema: unknown }>['schema'];

/** A zod shape as OpenAPI describes it, in one piece. */
export function jsonSchema(shape: z.ZodType): Described {
  const whole = z.toJSONSchema(shape, { io: 'input', reused: 'inline' }) as Whole;
  // A shape that has an id is wrapped in a reference to itself.
  const own = whole.$ref === undefined ? whole : (whole.$defs?.[whole.$ref.replace('#/$defs/', '')] ?? whole);
  const { $schema: _, $defs: __, id: ___, ...schema } = own;
  return schema as Described;
}

/** Describes each field of a query from the shape that reads it. */
export function asksInQuery(shape: z.ZodObject): MethodDecorator {
  const { properties = {}, required = [] } = z.toJSONSchema(shape, { io: 'input' }) as Whole;
  return applyDecorators(
    ...Object.entries(properties).map(([name, schema]) =>
      ApiQuery({ name, required: required.includes(name), schema: schema as Described }),
    ),
  );
}

interface Whole {
  readonly $schema?: unknown;
  readonly id?: unknown;
  readonly $ref?: string;
  readonly $defs?: Readonly<Record<string, Whole>>;
  readonly properties?: Readonly<Record<string, unknown>>;
  readonly required?: readonly string[];
}
