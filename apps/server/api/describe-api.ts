import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { DocumentBuilder, type OpenAPIObject, SwaggerModule } from '@nestjs/swagger';
import type { RouteRow } from '../http/route-table.js';

/** /api as OpenAPI describes it; the pages are for people, and not in it. */
export function describeApi(app: NestFastifyApplication, routes: readonly RouteRow[], version: string): OpenAPIObject {
  const config = new DocumentBuilder()
    .setTitle('Boilbook')
    .setDescription(
      'Quantities are text with their unit: 186 F, 12.5 gal, 66.9 Bx. Every fault of a body is told at once. ' +
        'A write answers 201 once it is committed; sent again with the same Idempotency-Key it is the same entry.',
    )
    .setVersion(version)
    .addBearerAuth({ type: 'http', scheme: 'bearer' }, 'key')
    .build();
  const whole = SwaggerModule.createDocument(app, config);
  const paths = Object.entries(whole.paths).filter(([path]) => /^\/api(\/|$)/.test(path));
  const open = new Set(
    routes
      .filter((row) => row.access === 'anybody')
      .map((row) => `${row.method} ${row.path.replace(/:(\w+)/g, '{$1}')}`),
  );
  for (const [path, operations] of paths)
    for (const [method, operation] of Object.entries(operations as Record<string, Operation>)) {
      operation.operationId = `${method}${path.replace(/^\/api/, '').replace(/\W+(\w?)/g, (_, letter: string) => letter.toUpperCase())}`;
      describeDoor(operation, method.toUpperCase(), open.has(`${method.toUpperCase()} ${path}`));
    }
  return {
    ...whole,
    paths: Object.fromEntries(paths),
    components: { ...whole.components, schemas: { Problem: problemSchema } },
  };
}

interface Operation {
  operationId?: string;
  security?: Record<string, string[]>[];
  responses: Record<string, unknown>;
  parameters?: unknown[];
}

function describeDoor(operation: Operation, method: string, open: boolean): void {
  operation.security = open ? [] : [{ key: [] }];
  operation.responses['default'] = {
    description: 'A refusal (RFC 9457)',
    content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
  };
  if (method === 'POST' && !open)
    operation.parameters = [
      ...(operation.parameters ?? []),
      {
        name: 'Idempotency-Key',
        in: 'header',
        required: false,
        schema: { type: 'string', maxLength: 200 },
        description: 'The same key and body again is the same entry; with another body it is refused',
      },
    ];
}

const problemSchema = {
  type: 'object',
  required: ['type', 'title', 'status', 'detail'],
  properties: {
    type: { type: 'string' },
    title: { type: 'string' },
    status: { type: 'integer' },
    detail: { type: 'string' },
    requestId: { type: 'string' },
    rule: { type: 'string', description: 'Of a refusal by a rule of the book' },
    entry: { type: 'integer' },
    faultsInAll: { type: 'integer', description: 'How many there are, where only the first hundred are listed' },
    faults: {
      type: 'array',
      items: {
        type: 'object',
        required: ['field', 'expected', 'got'],
        properties: { field: { type: 'string' }, expected: { type: 'string' }, got: { type: 'string' } },
      },
    },
  },
};
