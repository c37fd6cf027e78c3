import type { JsonSchema } from './json-schema.js';
import type { OpenApi, OpenApiOperation } from './openapi.js';

/** The API reference as a page: by tag, each operation with its parameters, body and answers. */
export function apiPage(api: OpenApi) {
  const operations = Object.entries(api.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => operationView(method, path, operation)),
  );
  return {
    title: 'API reference',
    here: '',
    about: String(api.info['description']),
    tags: api.tags.map(({ name, description }) => ({
      name,
      description,
      operations: operations.filter((each) => each.tag === name),
    })),
    schemas: Object.entries(api.components.schemas)
      .sort(([one], [other]) => one.localeCompare(other))
      .map(([name, schema]) => ({
        name,
        description: text(schema['description']),
        fields: fieldsOf(schema),
        type: typeText(schema),
      })),
  };
}

function operationView(method: string, path: string, operation: OpenApiOperation) {
  const [bodyMedia, body] = Object.entries(operation.requestBody?.content ?? {})[0] ?? [];
  return {
    id: operation.operationId,
    tag: operation.tags[0],
    method: method.toUpperCase(),
    path,
    summary: operation.summary,
    description: operation.description,
    open: operation.security.length === 0,
    parameters: (operation.parameters ?? []).map(({ name, in: where, required, description, schema }) => ({
      ...{ name, where, required, description: description ?? '', type: typeText(schema) },
    })),
    body: body && {
      media: bodyMedia ?? '',
      schema: schemaLink(body.schema),
      example: body.example === undefined ? '' : JSON.stringify(body.example, null, 2),
    },
    answers: Object.entries(operation.responses)
      .filter(([status]) => /^2/.test(status))
      .flatMap(([status, response]) =>
        'content' in response
          ? Object.entries(response.content).map(([media, { schema }]) => ({
              ...{ status, media, description: response.description, schema: schemaLink(schema) },
            }))
          : [],
      ),
  };
}

const schemaLink = (schema: JsonSchema): string => text(schema['$ref']).replace('#/components/schemas/', '');
const text = (value: unknown): string => (typeof value === 'string' ? value : '');

function fieldsOf(schema: JsonSchema) {
  const required = (schema['required'] ?? []) as readonly string[];
  return Object.entries((schema['properties'] ?? {}) as Readonly<Record<string, JsonSchema>>).map(([name, field]) => ({
    name,
    type: typeText(field),
    link: schemaLink(field) || schemaLink((field['items'] ?? {}) as JsonSchema),
    required: required.includes(name),
    description: text(field['description']),
    example: [(field['examples'] as readonly unknown[] | undefined)?.[0] ?? []].flat().map(String).join('; '),
  }));
}

/** `text`, `list of Finding`, `number or null`. */
function typeText(schema: JsonSchema): string {
  const link = schemaLink(schema);
  if (link) return link;
  if (Array.isArray(schema['enum'])) return schema['enum'].map(String).join(', ');
  const alternatives = (schema['anyOf'] ?? schema['oneOf']) as readonly JsonSchema[] | undefined;
  if (alternatives) return [...new Set(alternatives.map(typeText))].join(' or ');
  const types = [(schema['type'] ?? 'any') as string | string[]].flat();
  const items = schema['items'] as JsonSchema | undefined;
  return types
    .map((type) => (type === 'array' && items ? `list of ${typeText(items)}` : (typeNames[type] ?? type)))
    .join(' or ');
}

const typeNames: Readonly<Record<string, string>> = {
  string: 'text',
  integer: 'whole number',
  boolean: 'true or false',
  array: 'list',
};
