import { z } from 'zod';

export type JsonSchema = Readonly<Record<string, unknown>>;

/**
 * JSON Schema (draft 2020-12, which OpenAPI 3.1 takes as it is) of zod shapes. A shape with an id is defined once,
 * under components, and referenced where it is used.
 */
export function schemaComponents() {
  const schemas: Record<string, unknown> = {};
  const add = (shape: z.ZodType, io: 'input' | 'output'): JsonSchema => {
    const { $schema: _, $defs = {}, ...schema } = z.toJSONSchema(shape, { io, reused: 'inline' }) as RootSchema;
    for (const [name, each] of Object.entries($defs))
      schemas[componentName(name)] ??= withComponentRefs(withoutDefaults(each));
    return withComponentRefs(schema) as JsonSchema;
  };
  return { schemas, add };
}

interface RootSchema {
  readonly $schema?: unknown;
  readonly $defs?: Readonly<Record<string, unknown>>;
  readonly [key: string]: unknown;
}

/** `corrective action` → `CorrectiveAction`: OpenAPI takes letters, digits, dots, dashes and underscores. */
export const componentName = (text: string): string =>
  text.replace(/(?:^|[^A-Za-z0-9]+)([A-Za-z0-9])/g, (_, letter: string) => letter.toUpperCase());

/**
 * A member of a body that has a default may be left out, yet generators of typed clients (openapi-typescript by its own
 * settings) make it one that must be sent. The default stands in its description instead.
 */
function withoutDefaults(schema: unknown): unknown {
  const { properties, ...rest } = schema as { properties?: Readonly<Record<string, { default?: unknown }>> };
  if (!properties) return schema;
  const members = Object.entries(properties).map(([name, { default: _, ...member }]) => [name, member]);
  return { ...rest, properties: Object.fromEntries(members) as object };
}

const inDefs = '#/$defs/';

function withComponentRefs(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withComponentRefs);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([name]) => name !== 'id' || typeof (value as { id?: unknown }).id !== 'string')
      .map(([name, each]) =>
        name === '$ref' && typeof each === 'string' && each.startsWith(inDefs)
          ? [name, `#/components/schemas/${componentName(each.slice(inDefs.length))}`]
          : [name, withComponentRefs(each)],
      ),
  );
}
