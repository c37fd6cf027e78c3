import 'reflect-metadata';
import { RequestMethod, type Type } from '@nestjs/common';
import { METHOD_METADATA, PATH_METADATA } from '@nestjs/common/constants.js';
import type { z } from 'zod';
import type { RouteRow } from '../http/route-table.js';
import { problemAnswer } from './answers/problem-answer.js';
import { type JsonSchema, schemaComponents } from './json-schema.js';
import { type FileAnswer, type Operation, operationOf } from './operation.js';
import { type OpenApi, type OpenApiOperation, type Parameter, pathParameter } from './openapi.js';

/**
 * The OpenAPI 3.1 description of /api, from `@Describe` on each method and the table of routes; pages for people are
 * not in it.
 */
export function describeApi(
  controllers: readonly Type<unknown>[],
  routes: readonly RouteRow[],
  version: string,
): OpenApi {
  const components = schemaComponents();
  const publicRoutes = new Set(
    routes.filter((row) => row.access === 'anybody').map((row) => `${row.method} ${row.path}`),
  );
  const paths: Record<string, Record<string, OpenApiOperation>> = {};
  const tags = new Set<string>();
  for (const controller of controllers)
    for (const { operation, method, path } of operationsOf(controller)) {
      const tag = path.split('/')[2] ?? '';
      tags.add(tag);
      const openApiPath = path.replace(/:(\w+)/g, '{$1}');
      paths[openApiPath] = {
        ...paths[openApiPath],
        [method]: {
          tags: [tag],
          operationId: operationId(method, openApiPath),
          ...operationText(operation, publicRoutes.has(`${method.toUpperCase()} ${path}`)),
          ...describeRequest(operation, method, path, components.add),
          responses: describeResponses(operation, path, components.add),
          security: publicRoutes.has(`${method.toUpperCase()} ${path}`) ? [] : [{ key: [] }],
        },
      };
    }
  components.add(problemAnswer, 'output');
  return {
    openapi: '3.1.0',
    info: {
      title: 'Boilbook',
      summary: 'The record of a maple sugarhouse: boils, packs, jars and where they went',
      description: introduction,
      version,
      license: { name: 'MIT', identifier: 'MIT' },
      contact: { name: 'The owner of this record book' },
    },
    servers: [{ url: '/', description: 'The server that answered with this description' }],
    tags: [...tags].sort().map((name) => ({ name, description: tagTexts[name] ?? `Records: ${name}` })),
    paths,
    components: {
      schemas: components.schemas as Record<string, JsonSchema>,
      responses: { Problem: problemResponse },
      securitySchemes: {
        key: {
          type: 'http',
          scheme: 'bearer',
          description: 'An API key, which the owner adds on the People page: Authorization: Bearer KEY',
        },
      },
    },
  };
}

const introduction =
  'Quantities are text with their unit: 186 F, 12.5 gal, 66.9 Bx. Times are ISO 8601; without an offset they are in the ' +
  'time zone of the record book. A refusal lists every fault of a body at once. A write is answered with 201 once it is ' +
  'committed; repeated with the same Idempotency-Key and the same content within thirty days, it gets the same answer again.';

const tagTexts: Readonly<Record<string, string>> = {
  lots: 'A lot’s status, its trace, labels, hold, release and recall',
  logo: 'The maker’s drawing or logo on labels',
  jars: 'One jar by the code on its label',
  seasons: 'The yearly lot summary',
  imports: 'CSV files of records',
  corrections: 'Corrections, with their reason',
  voids: 'Voids: records of something that did not happen, with the reason',
  photos: 'Photos of records, kept in the book; their hashes are in the log',
  record: 'The append-only record log',
  reckon: 'Calculators: they neither read the record nor write to it',
};

interface DescribedOperation {
  readonly operation: Operation;
  readonly method: 'get' | 'post';
  readonly path: string;
}

/** The described methods of a controller; one may answer at several paths. */
function operationsOf(controller: Type<unknown>): DescribedOperation[] {
  const prefix = Reflect.getMetadata(PATH_METADATA, controller) as string;
  const methods = controller.prototype as Readonly<Record<string, object>>;
  return Object.getOwnPropertyNames(methods).flatMap((name) => {
    const handler = methods[name];
    const operation = typeof handler === 'function' ? operationOf(handler) : undefined;
    if (!handler || !operation) return [];
    const method = Reflect.getMetadata(METHOD_METADATA, handler) === RequestMethod.POST ? 'post' : 'get';
    const ownPaths = [Reflect.getMetadata(PATH_METADATA, handler) as string | string[]].flat();
    return ownPaths.map((path) => ({ operation, method, path: `/${prefix}/${path}`.replace(/\/+$/, '') }) as const);
  });
}

const operationId = (method: string, path: string): string =>
  `${method}${path.replace(/^\/api/, '').replace(/\W+(\w?)/g, (_, letter: string) => letter.toUpperCase())}`;

const operationText = (operation: Operation, isPublic: boolean): Pick<OpenApiOperation, 'summary' | 'description'> => ({
  summary: operation.summary,
  description: [
    operation.description ?? `${operation.summary}.`,
    isPublic ? 'No key is needed; the number of requests per minute is limited.' : '',
  ]
    .filter(Boolean)
    .join(' '),
});

type AddSchema = ReturnType<typeof schemaComponents>['add'];

function describeRequest(operation: Operation, method: string, path: string, add: AddSchema) {
  const pathParameters = [...path.matchAll(/:(\w+)/g)].map(([, name = '']) => pathParameter(name, path));
  const parameters = [
    ...pathParameters,
    ...(operation.query ? queryParameters(operation.query, add) : []),
    ...(operation.freeQuery ? [freeQuery(operation.freeQuery)] : []),
    ...(operation.writes ? writeHeaders.slice(0, operation.takes ? 1 : 2) : []),
  ];
  const content = operation.takes
    ? { [operation.takes.media]: { schema: { type: 'string' } } }
    : operation.body && {
        'application/json': {
          schema: add(operation.body, 'input'),
          ...(operation.bodyExample === undefined ? {} : { example: operation.bodyExample }),
        },
      };
  return {
    ...(parameters.length > 0 ? { parameters } : {}),
    ...(method === 'post' && content ? { requestBody: { required: true, content } } : {}),
  };
}

function queryParameters(shape: z.ZodObject, add: AddSchema): Parameter[] {
  const { properties = {}, required = [] } = add(shape, 'input') as {
    properties?: Readonly<Record<string, JsonSchema>>;
    required?: readonly string[];
  };
  return Object.entries(properties).map(([name, { description, ...schema }]) => ({
    name,
    in: 'query',
    required: required.includes(name),
    ...(typeof description === 'string' ? { description } : {}),
    schema,
  }));
}

const freeQuery = (description: string): Parameter => ({
  name: 'fields',
  in: 'query',
  required: false,
  description,
  style: 'form',
  explode: true,
  schema: { type: 'object', additionalProperties: { type: 'string' } },
});

const writeHeaders: readonly Parameter[] = [
  {
    name: 'Idempotency-Key',
    in: 'header',
    required: false,
    schema: { type: 'string', minLength: 1, maxLength: 200 },
    description:
      'A repeated request with the same key and content saves nothing more and gets the first answer; with other content it is refused (422)',
  },
  {
    name: 'If-Match',
    in: 'header',
    required: false,
    schema: { type: 'string' },
    description: 'The ETag last read: if somebody else has changed the record since, nothing is saved (412)',
  },
];

function describeResponses(operation: Operation, path: string, add: AddSchema): OpenApiOperation['responses'] {
  const answers = typeof operation.answers === 'function' ? operation.answers(path) : operation.answers;
  const content = isFile(answers)
    ? { [answers.media]: { schema: fileSchema(answers) } }
    : { 'application/json': { schema: add(answers, 'output') } };
  const success = { description: 'Success', content };
  const problem = { $ref: '#/components/responses/Problem' };
  return {
    '200': operation.writes ? { description: 'Already recorded: nothing was saved', content } : success,
    ...(operation.writes ? { '201': { description: 'Saved', headers: writtenHeaders, content } } : {}),
    '4XX': problem,
    default: problem,
  };
}

/** A file of JSON is read as the value it holds, any other as text or bytes. */
const fileSchema = ({ media, text }: FileAnswer): JsonSchema =>
  media.endsWith('+json') ? { type: 'object' } : { type: 'string', ...(text ? {} : { format: 'binary' }) };

const isFile = (answers: z.ZodType | FileAnswer): answers is FileAnswer => 'media' in answers;

const writtenHeaders = {
  Location: { description: 'The path of what was saved', schema: { type: 'string' } },
  ETag: { description: 'The number of the last entry about it, for If-Match', schema: { type: 'string' } },
};

const problemResponse = {
  description: 'A refusal, or a fault of the server (RFC 9457)',
  content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
};
