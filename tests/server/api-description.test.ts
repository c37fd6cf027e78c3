import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import ts from 'typescript';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { packageRoot } from '#libs/package-root.js';
import { answerChecker, type Described, type Schema } from '../support/api-description.js';
import { setUp } from '../support/newcomer.js';
import { openApiFaults } from '../support/openapi-rules.js';
import { startServer, type TestServer } from '../support/server.js';
import { typedClient } from '../support/typed-client.js';

let at: TestServer;
let described: Described;
let key = '';
beforeAll(async () => {
  at = await startServer();
  await setUp(at);
  const made = await addKey(at.book, 'home', { name: 'walk', role: 'owner' }, at.clock.now);
  if ('key' in made) ({ key } = made);
  described = (await at.web.inject('/api/openapi.json')).json<Described>();
});
afterAll(() => at.close());

describe('the description of /api', () => {
  test('is valid OpenAPI 3.1, and its examples match their schemas', () => {
    expect(openApiFaults(described)).toEqual([]);
    expect(Object.keys(described.components.schemas).length).toBeGreaterThan(60);
  });

  test('is checked for 3.0 bounds, a broken reference and an undeclared parameter', () => {
    const broken = JSON.parse(JSON.stringify(described)) as {
      components: { schemas: Record<string, object> };
      paths: Record<string, { get: { parameters: object[] } }>;
    };
    broken.components.schemas['Lot'] = { type: 'number', minimum: 0, exclusiveMinimum: true };
    delete broken.components.schemas['Finding'];
    (broken.paths['/api/lots/{code}']?.get.parameters ?? []).length = 0;
    const faults = openApiFaults(broken as unknown as Described).join('\n');
    expect(faults).toContain('exclusiveMinimum');
    expect(faults).toContain('#/components/schemas/Finding leads nowhere');
    expect(faults).toContain('get /api/lots/{code}: its path and its parameters name other things');
  });

  test('is compared with answers: an extra field, a wrong type or an undescribed status is found', () => {
    const check = answerChecker(described);
    const answer = (body: object, statusCode = 200, type = 'application/json') =>
      check('GET', '/api/record', { statusCode, headers: { 'content-type': type }, body: JSON.stringify(body) });
    expect(answer({ entries: 3, root: 'ab' })).toEqual([]);
    expect(answer({ entries: '3', root: 'ab' })).toHaveLength(1);
    expect(answer({ entries: 3, root: 'ab', more: 1 })).toHaveLength(1);
    expect(answer({ entries: 3, root: 'ab' }, 202)).toHaveLength(1);
    expect(answer({ title: 'No' }, 404, 'application/problem+json')).not.toEqual([]);
  });

  test('has the answers of every operation', () => {
    for (const [path, methods] of Object.entries(described.paths))
      for (const operation of Object.values(methods))
        for (const [status, response] of Object.entries(operation.responses))
          for (const { schema } of Object.values(response.content ?? {}))
            expect([path, status, '$ref' in schema || isFile(schema, path)]).toEqual([path, status, true]);
  });

  test('nouns stand with their own article, and a body asks for no member that has a default', () => {
    const text = JSON.stringify(described);
    expect(text.match(/\ban? (answer|acknowledgement|equipment|what)\b/g)).not.toContain('a answer');
    for (const [, , word = ''] of text.matchAll(/\b(Records|blank of) a (\w+)/g)) expect(word).toMatch(/^[^aeio]/);
    expect(described.components.schemas['Disposal']).toBeDefined();
    for (const [name, schema] of Object.entries(described.components.schemas))
      expect([name, JSON.stringify(schema).includes('"default":')]).toEqual([name, false]);
  });

  test('is a public page that loads nothing from other sites', async () => {
    const page = await at.web.inject('/api/docs');
    expect([page.statusCode, page.headers['content-type']]).toEqual([200, 'text/html; charset=utf-8']);
    expect(page.body).toContain('POST /api/packs');
    expect(page.body.match(/<h1[ >]/g)).toHaveLength(1);
    const ids = [...page.body.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id ?? '');
    expect(new Set(ids).size).toBe(ids.length);
    const links = [...page.body.matchAll(/ href="#([^"]+)"/g)].map(([, id]) => id ?? '');
    expect(links.filter((id) => !ids.includes(id))).toEqual([]);
    expect(page.body).not.toMatch(/(src|href)="(https?:)?\/\//);
  });
});

/** Text and bytes are strings to JSON Schema; a file of JSON is the value in it. */
const isFile = ({ type }: Schema, path: string): boolean => type === (path.endsWith('.jsonld') ? 'object' : 'string');

/** A newcomer's day, in the types of the client: a misspelling here does not compile. */
const walk = `
import { client, type Send } from './client.js';
export async function walk(send: Send) {
  const api = client(send);
  const sap = await api.postGatherings({ id: 'G900', gatheredAt: '2026-03-17T16:00', source: 'upper lines', volume: '120 gal', by: 'WE' });
  const boil = await api.postBoils({ beganAt: '2026-03-18T07:30', gatherings: [sap.id + ':120 gal'], defoamer: 'none', syrupVolume: '3 gal', by: 'WE' });
  const pack = await api.postPacks({ fromLots: [boil.id + ':2 gal'], packedAt: '2026-03-19T10:00', hotPackTemp: '190 F', densityReading: '60.4 Bx', densityAt: '185 F', densityBy: 'hydrometer', container: 'glass jar 8 fl oz', containerPrep: 'boiled 10 min', sealsFailed: '0', jars: '30', fillTemps: ['186 F', '184 F'], by: 'WE' });
  const why = await api.getLotsCodeWhy(pack.id);
  const jars = await api.getLotsCodeJars(pack.id, { most: 3 });
  const trace = await api.getJarsCode(jars.jars[0]?.code ?? '');
  const sent = await api.postDispatches({ lot: pack.id, jars: '1', sentAt: '2026-03-20T09:00', to: 'Millrace Green', kind: 'kept', by: 'WE' });
  const list = await api.getPacks({ year: '2026' });
  const season = await api.getSeasonsYearSummaryJson('2026');
  return { trace, why, sent, list: list.items[0]?.status, made: season.totals.jarsMade, first: season.lots[0]?.jarsOther };
}
`;

test('a client made from the description compiles and runs a newcomer’s day', async () => {
  const folder = mkdtempSync(join(packageRoot, '.dist-client-'));
  try {
    const files = { 'client.ts': typedClient(described), 'walk.ts': walk };
    for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
    const settings: ts.CompilerOptions = {
      strict: true,
      module: ts.ModuleKind.NodeNext,
      moduleResolution: ts.ModuleResolutionKind.NodeNext,
      target: ts.ScriptTarget.ES2022,
      lib: ['lib.es2022.d.ts', 'lib.dom.d.ts'],
      types: [],
      skipLibCheck: true,
    };
    const program = ts.createProgram([join(folder, 'walk.ts')], settings);
    const faults = ts
      .getPreEmitDiagnostics(program)
      .map((each) => ts.flattenDiagnosticMessageText(each.messageText, '\n'));
    expect(faults).toEqual([]);
    program.emit();
    const { walk: run } = (await import(join(folder, 'walk.js'))) as {
      walk: (send: object) => Promise<Record<string, unknown>>;
    };
    const done = await run(async (method: 'GET' | 'POST', url: string, payload?: string, type?: string) => {
      const headers = { authorization: `Bearer ${key}`, ...(type ? { 'content-type': type } : {}) };
      const answer = await at.web.inject({ method, url, headers, ...(payload === undefined ? {} : { payload }) });
      return { status: answer.statusCode, type: String(answer.headers['content-type']), text: answer.body };
    });
    expect(done).toMatchObject({
      trace: { kind: 'jar', gatherings: [expect.any(String)], jars: { made: 30 } },
      sent: { outcome: 'new' },
      list: 'open',
      made: 30,
      first: 1,
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}, 120_000);
