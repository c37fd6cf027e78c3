import { createRequire } from 'node:module';

/** The parts of an OpenAPI description that the tests read. */
export interface Described {
  readonly openapi: string;
  readonly paths: Readonly<Record<string, Readonly<Record<string, DescribedOperation>>>>;
  readonly components: {
    readonly schemas: Readonly<Record<string, Schema>>;
    readonly responses: Readonly<Record<string, DescribedResponse>>;
  };
}
export interface DescribedOperation {
  readonly operationId: string;
  readonly summary: string;
  readonly description: string;
  readonly tags: readonly string[];
  readonly parameters?: readonly {
    readonly in: string;
    readonly name: string;
    readonly required: boolean;
    readonly schema: Schema;
    readonly example?: unknown;
  }[];
  readonly requestBody?: { readonly content: Content };
  readonly responses: Readonly<Record<string, DescribedResponse & { readonly $ref?: string }>>;
  readonly security: readonly object[];
}
interface DescribedResponse {
  readonly description: string;
  readonly content?: Content;
}
type Content = Readonly<Record<string, { readonly schema: Schema; readonly example?: unknown }>>;
export type Schema = Readonly<Record<string, unknown>>;

interface Validate {
  (value: unknown): boolean;
  readonly errors?: readonly { instancePath: string; message?: string; params: object }[] | null;
}
interface Ajv {
  addSchema(schema: object, key: string): Ajv;
  compile(schema: object): Validate;
  validateSchema(schema: object): boolean;
  errorsText(): string;
}
const { default: Ajv2020 } = createRequire(import.meta.url)('ajv/dist/2020.js') as {
  default: new (settings: object) => Ajv;
};

/** A validator of JSON Schema draft 2020-12, the dialect of OpenAPI 3.1. */
export const jsonSchemas = (settings: object = {}): Ajv =>
  new Ajv2020({ strict: false, validateFormats: false, allErrors: true, ...settings });

export const resolved = (described: Described, response: { $ref?: string }): DescribedResponse =>
  response.$ref
    ? (described.components.responses[response.$ref.replace('#/components/responses/', '')] as DescribedResponse)
    : (response as DescribedResponse);

export interface Answer {
  readonly statusCode: number;
  readonly headers: Readonly<Record<string, unknown>>;
  readonly body: string;
}

/** Compares responses with the description: one sentence for each difference. */
export function answerChecker(described: Described): (method: string, url: string, answer: Answer) => string[] {
  // The whole document is no schema, but its references are resolved in it.
  const ajv = jsonSchemas({ validateSchema: false }).addSchema(described, 'api');
  const compiled = new Map<string, Validate>();
  const shapes = Object.keys(described.paths)
    .map((path) => ({ path, shape: new RegExp(`^${path.replace(/\./g, '\\.').replace(/\{\w+\}/g, '[^/]+')}$`) }))
    .sort((one, other) => one.path.split('{').length - other.path.split('{').length);
  const pointer = (...steps: string[]): string =>
    `api#/${steps.map((step) => encodeURIComponent(step.replace(/~/g, '~0').replace(/\//g, '~1'))).join('/')}`;
  return (method, url, { statusCode, headers, body }) => {
    const pathname = url.split('?')[0] ?? '';
    const path = shapes.find(({ shape }) => shape.test(pathname))?.path;
    const operation = path === undefined ? undefined : described.paths[path]?.[method.toLowerCase()];
    if (!path || !operation) return [];
    const at = `${method} ${path} ${statusCode}`;
    const range = `${Math.floor(statusCode / 100)}XX`;
    const status = [String(statusCode), range, 'default'].find((each) => operation.responses[each]);
    if (!status || (statusCode < 300 && status !== String(statusCode)))
      return [`${at}: a status that is not described`];
    const response = operation.responses[status];
    const media = String(headers['content-type']).split(';')[0] ?? '';
    if (!response || !resolved(described, response).content?.[media]) return [`${at}: ${media} is not described`];
    if (!media.endsWith('json')) return [];
    const steps = response.$ref
      ? response.$ref.replace('#/', '').split('/')
      : ['paths', path, method.toLowerCase(), 'responses', status];
    const ref = pointer(...steps, 'content', media, 'schema');
    const validate = compiled.get(ref) ?? ajv.compile({ $ref: ref });
    compiled.set(ref, validate);
    if (validate(JSON.parse(body))) return [];
    return (validate.errors ?? []).map(
      ({ instancePath, message, params }) => `${at}${instancePath}: ${message} ${JSON.stringify(params)}`,
    );
  };
}
