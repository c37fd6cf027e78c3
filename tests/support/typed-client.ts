import type { Described, DescribedOperation, Schema } from './api-description.js';

/** A TypeScript client from the description alone: a type for each schema, a method for each operation. */
export function typedClient(described: Described): string {
  const types = Object.entries(described.components.schemas).map(
    ([name, schema]) => `export type ${name} = ${typeOf(schema)};`,
  );
  const methods = Object.entries(described.paths).flatMap(([path, operations]) =>
    Object.entries(operations).map(([method, operation]) => methodOf(method, path, operation)),
  );
  return `${types.join('\n')}
export interface Answered { readonly status: number; readonly type: string; readonly text: string }
export type Send = (method: string, path: string, body: string | undefined, type: string | undefined) => Promise<Answered>;
const queryText = (query: Record<string, unknown>): string => {
  const given = Object.entries(query).filter(([, value]) => value !== undefined).map(([name, value]) => [name, String(value)] as [string, string]);
  return given.length === 0 ? '' : '?' + new URLSearchParams(given).toString();
};
async function asked<T>(send: Send, method: string, path: string, body?: unknown, type?: string): Promise<T> {
  const answer = await send(method, path, body === undefined ? undefined : type === 'application/json' ? JSON.stringify(body) : String(body), type);
  if (answer.status >= 300) throw new Error(method + ' ' + path + ': ' + answer.status + ' ' + answer.text);
  return (answer.type.includes('json') && !answer.type.includes('jsonl') && !answer.type.includes('ld+json') ? JSON.parse(answer.text) : answer.text) as T;
}
export const client = (send: Send) => ({
${methods.join('\n')}
});
`;
}

function methodOf(method: string, path: string, operation: DescribedOperation): string {
  const inPath = (operation.parameters ?? []).filter((each) => each.in === 'path');
  const inQuery = (operation.parameters ?? []).filter((each) => each.in === 'query');
  const [type, body] = Object.entries(operation.requestBody?.content ?? {})[0] ?? [];
  const success = operation.responses['201'] ?? operation.responses['200'];
  const answer = Object.entries(success?.content ?? {})[0];
  const query = inQuery
    .map(({ name, schema, required }) => `${JSON.stringify(name)}${required ? '' : '?'}: ${typeOf(schema)}`)
    .join('; ');
  const request = [
    ...inPath.map(({ name, schema }) => `${name}: ${typeOf(schema)}`),
    ...(body ? [`body: ${typeOf(body.schema)}`] : []),
    ...(query ? [`query: { ${query} }${inQuery.some(({ required }) => required) ? '' : ' = {}'}`] : []),
  ];
  const address = path.replace(/\{(\w+)\}/g, (_, name: string) => `\${encodeURIComponent(${name})}`);
  const given = [
    'send',
    JSON.stringify(method.toUpperCase()),
    `\`${address}\`${query ? ' + queryText(query)' : ''}`,
    ...(body ? ['body', JSON.stringify(type)] : []),
  ];
  return `  ${operation.operationId}: (${request.join(', ')}): Promise<${answer ? typeOf(answer[1].schema) : 'void'}> => asked(${given.join(', ')}),`;
}

/** The type of a schema. */
function typeOf(schema: Schema): string {
  const {
    $ref,
    enum: choices,
    anyOf,
    type,
    properties,
    items,
    additionalProperties,
  } = schema as {
    $ref?: string;
    enum?: readonly unknown[];
    const?: unknown;
    anyOf?: readonly Schema[];
    type?: string | readonly string[];
    properties?: Readonly<Record<string, Schema>>;
    items?: Schema;
    additionalProperties?: Schema | boolean;
  };
  if ($ref) return $ref.replace('#/components/schemas/', '');
  if ('const' in schema) return JSON.stringify(schema['const']);
  if (choices) return choices.map((each) => JSON.stringify(each)).join(' | ');
  if (anyOf) return anyOf.map((each) => typeOf(each)).join(' | ');
  if (Array.isArray(type)) return type.map((each: string) => typeOf({ ...schema, type: each })).join(' | ');
  if (schema['not']) return 'never';
  if (type === 'array') return `(${items ? typeOf(items) : 'unknown'})[]`;
  if (type === 'object') {
    const required = (schema['required'] ?? []) as readonly string[];
    const fields = Object.entries(properties ?? {}).map(
      ([name, each]) => `${JSON.stringify(name)}${required.includes(name) ? '' : '?'}: ${typeOf(each)}`,
    );
    const others = typeof additionalProperties === 'object' ? [`[name: string]: ${typeOf(additionalProperties)}`] : [];
    return `{ ${[...fields, ...others].join('; ')} }`;
  }
  return (
    { string: 'string', number: 'number', integer: 'number', boolean: 'boolean', null: 'null' }[String(type)] ??
    'unknown'
  );
}
