import { type Described, type DescribedOperation, jsonSchemas, resolved } from './api-description.js';

/**
 * OpenAPI 3.1.0 by its "fixed fields" tables and the rules beside them, for the objects that the description uses: the
 * fields an object may and must have, references that resolve, templated paths and their parameters, unique operation
 * ids, and every schema by the meta-schema of draft 2020-12. Returns a sentence for each rule broken.
 */
export function openApiFaults(described: Described): string[] {
  const whole = described as unknown as Fields;
  return [
    ...objectFaults(
      '',
      whole,
      ['openapi', 'info', 'servers', 'tags', 'paths', 'components'],
      ['openapi', 'info', 'paths'],
    ),
    ...(/^3\.1\.\d+$/.test(described.openapi) ? [] : [`openapi is ${described.openapi}`]),
    ...infoFaults(whole['info'] as Fields),
    ...Object.entries(described.paths).flatMap(([path, methods]) => pathFaults(path, methods)),
    ...operationIdFaults(described),
    ...ambiguous(Object.keys(described.paths)),
    ...schemasOf(described).flatMap(([at, schema]) => schemaFaults(at, schema)),
    ...Object.keys(described.components.schemas).flatMap((name) =>
      /^[a-zA-Z0-9._-]+$/.test(name) ? [] : [`components/schemas/${name}: not a name`],
    ),
    ...referencesIn(described).flatMap((ref) => (found(whole, ref) ? [] : [`${ref} leads nowhere`])),
    ...exampleFaults(described),
  ];
}

type Fields = Readonly<Record<string, unknown>>;

function objectFaults(at: string, object: Fields, may: readonly string[], must: readonly string[] = []): string[] {
  return [
    ...Object.keys(object).flatMap((name) => (may.includes(name) ? [] : [`${at}/${name} is no field of it`])),
    ...must.flatMap((name) => (name in object ? [] : [`${at} lacks ${name}`])),
  ];
}

function infoFaults(info: Fields): string[] {
  const license = info['license'] as Fields;
  return [
    ...objectFaults(
      'info',
      info,
      ['title', 'summary', 'description', 'termsOfService', 'contact', 'license', 'version'],
      ['title', 'version', 'description', 'license'],
    ),
    ...objectFaults('info/license', license, ['name', 'identifier', 'url'], ['name']),
    ...('identifier' in license !== 'url' in license ? [] : ['info/license has an identifier or a url, one of them']),
  ];
}

function pathFaults(path: string, methods: Readonly<Record<string, DescribedOperation>>): string[] {
  const named = [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name).sort();
  return [
    ...(path.startsWith('/') ? [] : [`${path} does not begin with a slash`]),
    ...objectFaults(path, methods, ['get', 'post']),
    ...Object.entries(methods).flatMap(([method, operation]) => {
      const at = `${method} ${path}`;
      const parameters = operation.parameters ?? [];
      const inPath = parameters.filter((each) => each.in === 'path');
      return [
        ...objectFaults(
          at,
          operation as unknown as Fields,
          ['tags', 'operationId', 'summary', 'description', 'parameters', 'requestBody', 'responses', 'security'],
          ['tags', 'operationId', 'summary', 'description', 'responses', 'security'],
        ),
        ...(JSON.stringify(inPath.map((each) => each.name).sort()) === JSON.stringify(named)
          ? []
          : [`${at}: its path and its parameters name other things`]),
        ...parameters.flatMap((each) => [
          ...objectFaults(
            `${at} ${each.name}`,
            each as unknown as Fields,
            ['name', 'in', 'description', 'required', 'schema', 'example', 'style', 'explode'],
            ['name', 'in', 'schema'],
          ),
          ...(each.in === 'path' && !each.required ? [`${at} ${each.name}: in the path, and not required`] : []),
        ]),
        ...(new Set(parameters.map((each) => `${each.in} ${each.name}`)).size === parameters.length
          ? []
          : [`${at}: a parameter twice`]),
        ...Object.entries(operation.responses).flatMap(([status, response]) => [
          ...(/^([1-5]\d\d|[1-5]XX|default)$/.test(status) ? [] : [`${at}: ${status} is no status`]),
          ...('$ref' in response
            ? objectFaults(`${at} ${status}`, { ...response }, ['$ref'])
            : objectFaults(`${at} ${status}`, { ...response }, ['description', 'headers', 'content'], ['description'])),
        ]),
        ...(Object.keys(operation.responses).some((status) => status.startsWith('2')) ? [] : [`${at}: no success`]),
        ...(Object.keys(operation.responses).some((status) => status.startsWith('4')) ? [] : [`${at}: no refusal`]),
      ];
    }),
  ];
}

function operationIdFaults({ paths }: Described): string[] {
  const ids = Object.values(paths).flatMap((methods) => Object.values(methods).map((each) => each.operationId));
  return ids.filter((id, at) => ids.indexOf(id) !== at).map((id) => `operationId ${id} twice`);
}

/** Two templated paths that match the same address. */
function ambiguous(paths: readonly string[]): string[] {
  const shapes = paths.map((path) => path.replace(/\{\w+\}/g, '{}'));
  return shapes.filter((shape, at) => shapes.indexOf(shape) !== at).map((shape) => `${shape} is described twice`);
}

/** Every schema with its path. */
function schemasOf(described: Described): [string, Fields][] {
  const found: [string, Fields][] = Object.entries(described.components.schemas).map(([name, schema]) => [
    name,
    schema,
  ]);
  const walk = (at: string, value: unknown): void => {
    if (typeof value !== 'object' || value === null) return;
    for (const [name, each] of Object.entries(value)) {
      if (name === 'schema') found.push([at, each as Fields]);
      else if (name !== 'example') walk(`${at}/${name}`, each);
    }
  };
  walk('paths', described.paths);
  walk('responses', described.components.responses);
  return found;
}

const ajv = jsonSchemas();
const schemaFaults = (at: string, schema: Fields): string[] =>
  ajv.validateSchema(schema) ? [] : [`${at}: ${ajv.errorsText()}`];

function referencesIn(value: unknown): string[] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, each]) =>
    name === '$ref' && typeof each === 'string' ? [each] : referencesIn(each),
  );
}

const found = (whole: Fields, ref: string): boolean =>
  ref.startsWith('#/') &&
  ref
    .slice(2)
    .split('/')
    .reduce<unknown>((at, step) => (at as Fields | undefined)?.[step], whole) !== undefined;

/** Examples of bodies and parameters that their schema rejects. */
function exampleFaults(described: Described): string[] {
  const checker = jsonSchemas({ validateSchema: false }).addSchema(described, 'api');
  const taken = (schema: Fields, example: unknown): boolean =>
    checker.compile(JSON.parse(JSON.stringify(schema).replaceAll('"#/', '"api#/')) as object)(example);
  return Object.entries(described.paths).flatMap(([path, methods]) =>
    Object.entries(methods).flatMap(([method, operation]) => [
      ...(operation.parameters ?? []).flatMap(({ name, schema, example }) =>
        example === undefined || taken(schema, example) ? [] : [`${method} ${path} ${name}: its example is refused`],
      ),
      ...[
        operation.requestBody?.content,
        ...Object.values(operation.responses).map((each) => resolved(described, each).content),
      ]
        .flatMap((content) => Object.values(content ?? {}))
        .flatMap(({ schema, example }) =>
          example === undefined || taken(schema, example)
            ? []
            : [`${method} ${path}: the example of a body is refused`],
        ),
    ]),
  );
}
