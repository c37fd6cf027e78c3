import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { readHead } from '#libs/store/log/log.js';
import { verifyBook } from '#libs/store/log/verify.js';
import type { Described, DescribedBody, DescribedOperation, Operation } from '../support/described-routes.js';
import { writeDay } from '../support/season-server.js';
import { engines } from '../support/engines.js';
import { startServer, type TestServer } from '../support/server.js';

interface Request {
  readonly method: 'GET' | 'POST';
  readonly url: string;
  readonly payload?: string;
}

describe.each(engines())('on $name', (engine) => {
  let at: TestServer;
  let key = '';
  let operations: readonly Operation[] = [];
  let codes: readonly string[] = [];
  beforeAll(async () => {
    await engine.start();
    at = await startServer({}, { engine });
    const day = await writeDay(at);
    codes = [day.pack, day.cold, 'G041', '26077A', ...day.jars.slice(0, 3)];
    const made = await addKey(at.book, 'home', { name: 'fuzz', role: 'owner' }, at.clock.now);
    if ('key' in made) ({ key } = made);
    operations = operationsOf((await at.web.inject('/api/openapi.json')).json<Described>());
  });
  afterAll(async () => {
    await at.close();
    await engine.stop();
  });

  let schemas: Described['components']['schemas'] = {};
  const bodyOf = ({ requestBody }: DescribedOperation): DescribedBody => {
    const schema = Object.values(requestBody?.content ?? {})[0]?.schema;
    return (schema?.$ref === undefined ? schema : schemas[schema.$ref.replace('#/components/schemas/', '')]) ?? {};
  };

  /**
   * Every described route with its query and its fields; those that draw documents are requested less often, since they
   * are slow.
   */
  function operationsOf({ paths, components }: Described): Operation[] {
    schemas = components.schemas;
    const drawn = /\.(pdf|xlsx)$|^\/api\/imports/;
    return Object.entries(paths).flatMap(([path, methods]) =>
      Object.entries(methods)
        .filter(() => !drawn.test(path))
        .map(([method, operation]) => ({
          method: method.toUpperCase() as 'GET' | 'POST',
          path,
          query: (operation.parameters ?? []).filter((each) => each.in === 'query').map((each) => each.name),
          fields: Object.entries(bodyOf(operation).properties ?? {}).map(
            ([name, schema]) => [name, (schema.examples ?? []).flat()] as const,
          ),
        })),
    );
  }

  const quantities = [
    '186 constructor',
    '60 __proto__',
    '186 F',
    '85.5C',
    '12.5 gal',
    '1,200 gal',
    '66.9 Bx',
    '36 Be',
    '1.328 SG',
    '-3 F',
    '1e999 gal',
    '٣ gal',
    '０ gal',
    '99999999999999999999 L',
  ];
  const odd = fc.oneof(
    fc.string({ unit: 'binary', maxLength: 40 }),
    fc.constantFrom(
      '',
      ' ',
      '\u0000',
      '\ud800',
      '../..',
      '%00',
      "'; DROP TABLE entry; --",
      '=1+2";=1+2',
      '__proto__',
      'constructor',
      '😀'.repeat(50),
      ';;;;',
      '@',
      '#',
      ':',
      '2026-02-30',
      '2026-03-08T02:30',
      '2026-11-01T01:30',
      '9999-12-31T23:59',
    ),
    fc.constantFrom(...quantities),
  );
  const value = fc.oneof(
    { weight: 6, arbitrary: odd },
    {
      weight: 1,
      arbitrary: fc.oneof(
        fc.integer(),
        fc.double(),
        fc.boolean(),
        fc.constant(null),
        fc.array(odd, { maxLength: 4 }),
        fc.dictionary(odd, odd, { maxKeys: 3 }),
      ),
    },
  );

  /** A field's value: usually a plausible one, so that many requests succeed. */
  const inField = (name: string, examples: readonly unknown[], wild: boolean): fc.Arbitrary<unknown> => {
    if (wild) return fc.oneof(value, ...(examples.length > 0 ? [fc.constantFrom(...examples)] : []));
    if (name === 'id' || name === 'ownId') return fc.integer({ min: 1, max: 1e6 }).map((n) => `F${n}`);
    if (name === 'lot') return fc.constantFrom(...codes.slice(0, 2));
    if (name === 'boil') return fc.constant('26077A');
    if (name === 'gatherings' || name === 'fromLots')
      return fc.constantFrom('G041:1 gal', '26077A:3 fl oz', `${codes[0]}:8 fl oz`);
    if (name === 'carriedFrom') return fc.constant('26077A:3 fl oz');
    return examples.length > 0 ? fc.constantFrom(...examples) : fc.constantFrom('OE', 'none', 'a note', '12');
  };

  const requestOf = (operation: Operation, wild: boolean): fc.Arbitrary<Request> => {
    const part = fc.oneof(
      { weight: 3, arbitrary: fc.constantFrom(...codes, 'shrink', 'finish', 'density', '2026', '1') },
      { weight: 1, arbitrary: odd },
    );
    const body = fc.record(
      Object.fromEntries(operation.fields.map(([name, examples]) => [name, inField(name, examples, wild)])),
      wild ? { requiredKeys: [] } : {},
    );
    return fc
      .record({
        parts: fc.array(part, { minLength: 3, maxLength: 3 }),
        query: fc
          .subarray([...operation.query])
          .chain((names) => fc.record(Object.fromEntries(names.map((name) => [name, odd])))),
        payload: body.chain((fields) => {
          const whole = JSON.stringify(
            operation.path.startsWith('/api/boils') || operation.path.startsWith('/api/packs')
              ? { ...fields, lot: undefined }
              : fields,
          );
          return wild
            ? fc.constantFrom(whole, whole, whole, whole.slice(0, -3), `[${whole}]`, `"${whole.length}"`)
            : fc.constant(whole);
        }),
      })
      .map(({ parts, query, payload }) => {
        const provided = [...parts];
        const path = operation.path.replace(/\{\w+\}/g, () => encode(provided.pop() ?? '') || 'x');
        const search = Object.entries(query).map(([name, text]) => `${name}=${encode(text)}`);
        const url = search.length > 0 ? `${path}?${search.join('&')}` : path;
        return operation.method === 'POST' ? { method: 'POST', url, payload } : { method: 'GET', url };
      });
  };

  const encode = (text: string): string => encodeURIComponent(text.replace(/\p{Cs}/gu, '?'));

  // The routes are the same code on either engine, so SQLite gets most requests. BOILBOOK_TEST_RUNS sets their number.
  const requests = Number(process.env['BOILBOOK_TEST_RUNS'] ?? (engine.name === 'SQLite' ? 2400 : 300));
  const others = Math.ceil(requests / (engine.name === 'SQLite' ? 8 : 5));

  test(`${requests} requests over the described routes: none causes a server error or half a write`, async () => {
    const request = fc.oneof(...operations.flatMap((each) => [requestOf(each, true), requestOf(each, false)]));
    const before = (await readHead(at.book.read)).entries;
    const counts: Record<number, number> = {};
    let made = 0;
    await fc.assert(
      fc.asyncProperty(request, async ({ method, url, ...rest }) => {
        const answer = await at.web.inject({
          method,
          url,
          headers: { authorization: `Bearer ${key}`, 'content-type': 'application/json' },
          ...rest,
        });
        counts[answer.statusCode] = (counts[answer.statusCode] ?? 0) + 1;
        if (answer.statusCode === 201) made++;
        if (answer.statusCode >= 500)
          throw new Error(
            `${answer.statusCode} ${answer.body}\n${at.log.filter((line) => line.includes('"fault"')).at(-1) ?? ''}`,
          );
        if (answer.statusCode >= 400)
          expect(answer.headers['content-type']).toBe('application/problem+json; charset=utf-8');
      }),
      { numRuns: requests, seed: engine.name.length, endOnFailure: true },
    );
    const { entries } = await readHead(at.book.read);
    expect([made, entries - before, counts]).toEqual([entries - before, entries - before, counts]);
    expect(made).toBeGreaterThan(requests * 0.03);
    expect(counts[422]).toBeGreaterThan(requests * 0.1);
    expect(await verifyBook(at.book)).toMatchObject({ ok: true, entries });
  }, 240_000);

  test(`${others} mangled files: each is imported completely or refused with the reason`, async () => {
    const good: Record<string, string> = {
      gatherings:
        'id,gathered_at,source,volume\nM1,2026-03-01T16:00,upper lines,12 gal\nM2,2026-03-02T16:00,lower lines,9 gal\n',
      packs:
        'from_lots,packed_at,container,jars,fill_temps,by\nG041,2026-03-19T12:00,glass jar 8 fl oz,2,186 F;184 F@12:10,OE\n',
      dispatches: `lot,jars,sent_at,to\n${codes[0]},1,2026-03-20T09:00,Millrace Green\n`,
      counts: `id,lot,jars,counted_at,by\nC1,${codes[0]},10,2026-03-20T10:00,JP\n`,
    };
    const cut = fc.record({
      at: fc.nat(400),
      take: fc.nat(6),
      put: fc.oneof(odd, fc.constantFrom('"', ',', ';', '\n', '\r', '\ufeff', '|', '"",""')),
    });
    const mangled = fc.record({
      kind: fc.constantFrom(...Object.keys(good)),
      cuts: fc.array(cut, { maxLength: 4 }),
      raw: fc.uint8Array({ maxLength: 3 }),
    });
    await fc.assert(
      fc.asyncProperty(mangled, async ({ kind, cuts, raw }) => {
        const text = cuts.reduce(
          (file, { at: from, take, put }) => file.slice(0, from) + put + file.slice(from + take),
          good[kind] ?? '',
        );
        const before = (await readHead(at.book.read)).entries;
        const answer = await at.web.inject({
          method: 'POST',
          url: `/api/imports/${kind}`,
          headers: { authorization: `Bearer ${key}`, 'content-type': 'text/csv' },
          payload: Buffer.concat([Buffer.from(text), Buffer.from(raw)]),
        });
        const grown = (await readHead(at.book.read)).entries - before;
        if (answer.statusCode >= 500)
          throw new Error(`${answer.body}\n${at.log.filter((line) => line.includes('"fault"')).at(-1) ?? ''}`);
        if (answer.statusCode >= 400)
          expect([grown, answer.json<{ detail: string }>().detail.length > 10]).toEqual([0, true]);
        else expect(grown).toBe(answer.json<{ written: number }>().written);
      }),
      { numRuns: others, seed: engine.name.length, endOnFailure: true },
    );
    expect(await verifyBook(at.book)).toMatchObject({ ok: true });
  }, 120_000);

  test(`${others} forms and addresses of the pages: none causes a server error, and reading writes nothing`, async () => {
    const names = [...new Set([...kindByName.values()].flatMap((kind) => Object.keys(kind.fields)))];
    const routes = at.routes.filter(
      ({ method, path }) =>
        ['GET', 'POST'].includes(method) && !/^\/(api|assets|practice|set-up|sign-|guest)|\*/.test(path),
    );
    const visit = fc.record({
      route: fc.constantFrom(...routes),
      parts: fc.array(
        fc.oneof(fc.constantFrom(...codes, '1', '2026', 'density', 'checks', 'constructor', '__proto__'), odd),
        {
          minLength: 4,
          maxLength: 4,
        },
      ),
      fields: fc.dictionary(
        fc.constantFrom(...names, 'why', 'code', 'stock', '_once', '_seen', '_do', 'volume~unit'),
        odd,
        { maxKeys: 12 },
      ),
    });
    await fc.assert(
      fc.asyncProperty(visit, async ({ route, parts, fields }) => {
        const provided = [...parts];
        const path = route.path.replace(/:\w+/g, () => encode(provided.pop() ?? '') || 'x');
        const before = (await readHead(at.book.read)).entries;
        const form = new URLSearchParams(Object.entries(fields).map(([name, text]) => [name, text])).toString();
        const answer = await at.web.inject({
          method: route.method as 'GET' | 'POST',
          url: route.method === 'GET' ? `${path}?${form}` : path,
          headers: {
            authorization: `Bearer ${key}`,
            ...(route.method === 'GET' ? {} : { 'content-type': 'application/x-www-form-urlencoded' }),
          },
          ...(route.method === 'GET' ? {} : { payload: form }),
        });
        if (answer.statusCode >= 500)
          throw new Error(
            `${route.method} ${path}?${form}\n${answer.statusCode}\n${at.log.filter((line) => line.includes('"fault"')).at(-1) ?? ''}`,
          );
        if (route.method === 'GET') expect((await readHead(at.book.read)).entries).toBe(before);
      }),
      { numRuns: others, seed: engine.name.length, endOnFailure: true },
    );
    expect(await verifyBook(at.book)).toMatchObject({ ok: true });
  }, 180_000);
});
