import { fileKinds } from '#libs/actions/kinds/registry.js';
import { calculators } from '#libs/actions/calculators/calculators.js';
import type { JsonSchema } from './json-schema.js';

/** The parts of OpenAPI 3.1 that the description uses. */
export interface OpenApi {
  readonly openapi: '3.1.0';
  readonly info: Readonly<Record<string, unknown>>;
  readonly servers: readonly { readonly url: string; readonly description: string }[];
  readonly tags: readonly { readonly name: string; readonly description: string }[];
  readonly paths: Readonly<Record<string, Readonly<Record<string, OpenApiOperation>>>>;
  readonly components: {
    readonly schemas: Readonly<Record<string, JsonSchema>>;
    readonly responses: Readonly<Record<string, OpenApiResponse>>;
    readonly securitySchemes: Readonly<Record<string, unknown>>;
  };
}

export interface OpenApiOperation {
  readonly tags: readonly string[];
  readonly operationId: string;
  readonly summary: string;
  readonly description: string;
  readonly parameters?: readonly Parameter[];
  readonly requestBody?: { readonly required: boolean; readonly content: Content };
  readonly responses: Readonly<Record<string, OpenApiResponse | { readonly $ref: string }>>;
  readonly security: readonly Readonly<Record<string, readonly string[]>>[];
}

export interface Parameter {
  readonly name: string;
  readonly in: 'path' | 'query' | 'header';
  readonly required: boolean;
  readonly description?: string;
  readonly schema: JsonSchema;
  readonly example?: string;
  readonly style?: string;
  readonly explode?: boolean;
}

export interface OpenApiResponse {
  readonly description: string;
  readonly headers?: Readonly<Record<string, unknown>>;
  readonly content: Content;
}

type Content = Readonly<Record<string, { readonly schema: JsonSchema; readonly example?: unknown }>>;

/** A path parameter; its description depends on its name and on the path that contains it. */
export function pathParameter(name: string, path: string): Parameter {
  const { description, example, schema } = pathTexts(name, path);
  return { name, in: 'path', required: true, description, schema: { type: 'string', ...schema }, example };
}

function pathTexts(name: string, path: string): { description: string; example: string; schema?: JsonSchema } {
  if (name === 'year')
    return { description: 'A year, for example 2026', example: '2026', schema: { pattern: '^20\\d\\d$' } };
  if (name === 'kind')
    return {
      description: 'The kind of record in the file’s rows',
      example: 'gatherings',
      schema: { enum: fileKinds.map((kind) => kind.plural) },
    };
  if (name === 'question')
    return {
      description: 'The name of a calculator',
      example: 'density',
      schema: { enum: calculators.map((each) => each.name) },
    };
  if (name === 'code')
    return path.startsWith('/api/jars')
      ? { description: 'A jar code, with or without its dash', example: 'K7QM-3XWT' }
      : { description: 'A lot code, or the maker’s own id of a boil or a pack', example: '26077A-1' };
  return { description: 'The id of the record, or its lot code', example: exampleIds[path.split('/')[2] ?? ''] ?? '1' };
}

const exampleIds: Readonly<Record<string, string>> = {
  gatherings: 'G041',
  receipts: 'R007',
  boils: '26077A',
  packs: '26077A-1',
  dispatches: 'S101',
};
