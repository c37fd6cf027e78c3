import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/household-deeds.js';
import { readHead } from '#libs/records/log.js';
import { writeADay } from './a-season.js';
import { aServer, type AServer } from './a-server.js';
import { engines } from '../engines.js';

describe.each(engines())('on $name', (engine) => {
  let at: AServer;
  let day: Awaited<ReturnType<typeof writeADay>>;
  const keys: Record<string, string> = {};
  beforeAll(async () => {
    await engine.start();
    at = await aServer({ BOILBOOK_PUBLIC_URL: 'https://jars.tamarack.example' }, { engine });
    day = await writeADay(at);
    for (const role of ['owner', 'maker', 'helper', 'guest']) {
      const made = await addKey(at.book, 'home', { name: `${role} script`, role }, at.clock.now);
      if ('key' in made) keys[role] = made.key;
    }
  });
  afterAll(async () => {
    await at.close();
    await engine.stop();
  });

  const asked = (url: string, role = 'maker') =>
    at.web.inject({ url, headers: role === 'nobody' ? {} : { authorization: `Bearer ${keys[role]}` } });
  const sent = (url: string, body: unknown, headers: Record<string, string> = {}, role = 'maker') =>
    at.web.inject({
      method: 'POST',
      url,
      payload: typeof body === 'string' ? body : JSON.stringify(body),
      headers: { 'content-type': 'application/json', authorization: `Bearer ${keys[role]}`, ...headers },
    });
  const entries = async () => (await readHead(at.book.read)).entries;

  const gathering = { gatheredAt: '2026-03-19T15:00', source: 'lower lines', volume: '80 gal', by: 'JP' };

  describe('writing', () => {
    test('answers 201 with the address, the entry and the record once it is committed', async () => {
      const answer = await sent('/api/gatherings', { id: 'G042', ...gathering });
      expect([answer.statusCode, answer.headers.location]).toEqual([201, '/api/gatherings/G042']);
      expect(answer.json()).toMatchObject({ id: 'G042', outcome: 'new', volume: '80 gal', status: 'open', by: 'JP' });
      expect(answer.json().entry).toBe(await entries());
      expect((await asked('/api/gatherings/G042')).json()).toMatchObject({
        volume: '80 gal',
        entry: answer.json().entry,
      });
    });

    test('tells every fault of a body at once, as problem details, and writes nothing', async () => {
      const before = await entries();
      const answer = await sent('/api/gatherings', { source: 7, volume: '80', sugar: '2', smell: 'woody' });
      expect([answer.statusCode, answer.headers['content-type']]).toEqual([
        422,
        'application/problem+json; charset=utf-8',
      ]);
      const fields = (answer.json().faults as { field: string }[]).map((fault) => fault.field);
      expect(fields).toEqual(expect.arrayContaining(['id', 'gatheredAt', 'volume', 'sugar', 'smell']));
      expect(answer.json()).toMatchObject({
        type: 'urn:boilbook:problem:invalid',
        status: 422,
        requestId: expect.any(String),
      });
      expect(await entries()).toBe(before);
    });

    test('the same key and body twice is one entry, with another body it is refused', async () => {
      const key = { 'idempotency-key': 'tap-1' };
      const tapped = { id: 'G100', ...gathering };
      const first = await sent('/api/gatherings', tapped, key);
      const before = await entries();
      const again = await sent('/api/gatherings', tapped, key);
      expect([first.statusCode, again.statusCode]).toEqual([201, 200]);
      expect(again.json()).toMatchObject({ outcome: 'again', id: first.json().id, entry: first.json().entry });
      const other = await sent('/api/gatherings', { ...tapped, volume: '90 gal' }, key);
      expect([other.statusCode, other.json().type]).toEqual([409, 'urn:boilbook:problem:key-used']);
      const someoneElse = await sent('/api/gatherings', { id: 'G101', ...gathering }, key, 'owner');
      expect(someoneElse.statusCode).toBe(201);
      expect(await entries()).toBe(before + 1);
    });

    test('twenty at once under one key make one entry', async () => {
      const before = await entries();
      const answers = await Promise.all(
        Array.from({ length: 20 }, () =>
          sent('/api/gatherings', { id: 'G102', ...gathering }, { 'idempotency-key': 'twenty' }),
        ),
      );
      expect(answers.filter((each) => each.statusCode === 201)).toHaveLength(1);
      expect(answers.filter((each) => each.statusCode === 200)).toHaveLength(19);
      expect(await entries()).toBe(before + 1);
    });

    test('a boil is begun, added to and finished', async () => {
      const begun = await sent('/api/boils', {
        beganAt: '2026-03-20T07:00',
        gatherings: ['G042'],
        by: 'WE',
        underway: true,
      });
      expect(begun.statusCode).toBe(201);
      const { id } = begun.json() as { id: string };
      const line = await sent('/api/lines', { lot: id, at: '2026-03-20T08:00', temperature: '214.5 F' }, {}, 'helper');
      expect(line.statusCode).toBe(201);
      const done = await sent(`/api/boils/${id}/additions`, { syrupVolume: '2 gal', finishedAt: '2026-03-20T11:00' });
      expect([done.statusCode, done.json().outcome, done.json().syrupVolume]).toEqual([201, 'added', '2 gal']);
      expect((await sent('/api/boils', { beganAt: '2026-03-20T11:30', by: 'WE' })).json().faults).toEqual([
        expect.objectContaining({ field: 'syrupVolume' }),
      ]);
    });

    test('who has not seen the last entry about a lot is told of it', async () => {
      const seen = (await asked(`/api/packs/${day.pack}`)).json().entry as number;
      const first = await sent(
        '/api/corrections',
        { entry: day.pack, why: 'misread', changes: { clarity: 'clear' } },
        { 'if-match': `"${seen}"` },
      );
      expect(first.statusCode).toBe(201);
      const second = await sent(
        '/api/corrections',
        { entry: day.pack, why: 'misread', changes: { clarity: 'cloudy' } },
        { 'if-match': `"${seen}"` },
      );
      expect([second.statusCode, second.json().type]).toEqual([409, 'urn:boilbook:problem:changed-since']);
    });

    test('a correction needs its reason, and the history keeps both', async () => {
      const without = await sent('/api/corrections', { entry: 'G041', why: ' ', changes: { volume: '118 gal' } });
      expect(without.statusCode).toBe(422);
      await sent('/api/corrections', {
        entry: 'G041',
        why: 'the dipstick was read upside down',
        changes: { volume: '118 gal' },
      });
      const history = (await asked('/api/lots/G041/history')).json().entries as {
        deed: string;
        record?: { typed: { volume: string } };
      }[];
      expect(history.map((each) => [each.deed, each.record?.typed.volume])).toEqual(
        expect.arrayContaining([
          ['record', '120 gal'],
          ['correct', '118 gal'],
        ]),
      );
      expect(JSON.stringify(history)).not.toContain('seed');
    });
  });

  describe('lots', () => {
    test('a cold pack is held and gets no labels, and says which rule', async () => {
      expect((await asked(`/api/packs/${day.cold}`)).json()).toMatchObject({ status: 'held' });
      const labels = await asked(`/api/lots/${day.cold}/labels.pdf`);
      expect([labels.statusCode, labels.headers['content-type']]).toEqual([
        409,
        'application/problem+json; charset=utf-8',
      ]);
      expect(labels.json().detail).toContain('178');
      const released = await sent(`/api/lots/${day.cold}/release`, { why: 'looks fine' });
      expect(released.statusCode).toBe(409);
    });

    test('an action with new readings, then a release with a reason', async () => {
      const acted = await sent('/api/actions', {
        lot: day.cold,
        found: 'first jar at 178 F',
        done: 'reheated, packed again',
        fillTemps: ['188 F', '187 F'],
        densityReading: '60.4 Bx',
        densityAt: '185 F',
      });
      expect(acted.statusCode).toBe(201);
      const released = await sent(`/api/lots/${day.cold}/release`, { why: 'new readings pass' });
      expect([released.statusCode, (await asked(`/api/lots/${day.cold}`)).json().status]).toEqual([201, 'released']);
    });

    test('labels come as a PDF and change nothing', async () => {
      const before = await entries();
      const labels = await asked(`/api/lots/${day.pack}/labels.pdf?from=3&to=4`);
      expect([labels.statusCode, labels.headers['content-type'], labels.rawPayload.subarray(0, 5).toString()]).toEqual([
        200,
        'application/pdf',
        '%PDF-',
      ]);
      expect((await asked(`/api/lots/${day.pack}/labels.pdf?stock=nothing`)).statusCode).toBe(422);
      expect((await asked(`/api/lots/${day.pack}/labels.pdf?from=0`)).statusCode).toBe(422);
      expect((await asked(`/api/lots/${day.pack}/labels.pdf?skip=lots`)).statusCode).toBe(422);
      expect(await entries()).toBe(before);
    });

    test('a jar is traced to its boil and sap, and to the market', async () => {
      const trace = (await asked(`/api/jars/${day.jars[0]?.toLowerCase()}`)).json();
      expect(trace).toMatchObject({
        kind: 'jar',
        pack: day.pack,
        gatherings: ['G041'],
        jars: { made: 30, sentOut: 12 },
      });
      expect((await asked(`/api/lots/${day.pack}/trace`)).json().boils).toEqual(trace.boils);
      expect((await asked('/api/jars/AAAAAAAA')).statusCode).toBe(404);
    });

    test('lists come a page at a time', async () => {
      const first = (await asked('/api/packs?year=2026&most=1')).json();
      expect([first.items.length, first.all, first.items[0].id]).toEqual([1, 2, day.pack]);
      const second = (await asked(first.next)).json();
      expect([second.items[0].id, second.next]).toEqual([day.cold, null]);
      expect((await asked('/api/packs?most=0')).statusCode).toBe(422);
    });
  });

  describe('seasons, questions and the description', () => {
    test.each([
      ['pdf', 'application/pdf'],
      ['xlsx', 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet'],
      ['csv', 'text/csv; charset=utf-8'],
      ['json', 'application/json; charset=utf-8'],
      ['jsonld', 'application/ld+json; charset=utf-8'],
    ])('the summary of a year as %s', async (ending, type) => {
      const answer = await asked(`/api/seasons/2026/summary.${ending}`, 'guest');
      expect([answer.statusCode, answer.headers['content-type']]).toEqual([200, type]);
      expect(answer.rawPayload.length).toBeGreaterThan(100);
      if (ending === 'json') {
        const { entries: n, root } = await readHead(at.book.read);
        expect(answer.json()).toMatchObject({ year: 2026, record: { entries: n, root } });
      }
    });

    test('a question is answered to anybody, from the query and from a body', async () => {
      const asking = await asked('/api/reckon/shrink?fillAt=180+F&density=66.9+Bx', 'nobody');
      expect([asking.statusCode, asking.json().percent]).toEqual([200, expect.any(Number)]);
      const posted = await at.web.inject({
        method: 'POST',
        url: '/api/reckon/shrink',
        payload: { fillAt: '180 F', density: '66.9 Bx' },
      });
      expect(posted.json().percent).toBe(asking.json().percent);
      const wrong = await asked('/api/reckon/shrink?fillAt=180', 'nobody');
      expect([wrong.statusCode, wrong.json().faults.map((each: { field: string }) => each.field)]).toEqual([
        422,
        ['fillAt', 'density'],
      ]);
      expect((await asked('/api/reckon/future', 'nobody')).statusCode).toBe(404);
    });

    test('the description holds every route of /api and nothing else', async () => {
      const described = (await asked('/api/openapi.json', 'nobody')).json() as {
        paths: Record<string, Record<string, { security: unknown[] }>>;
      };
      const said = Object.entries(described.paths).flatMap(([path, methods]) =>
        Object.keys(methods).map((method) => `${method.toUpperCase()} ${path}`),
      );
      const there = at.routes
        .filter((row) => row.path.startsWith('/api/') && row.method !== 'HEAD' && row.path !== '/api/openapi.json')
        .map((row) => `${row.method} ${row.path.replace(/:(\w+)/g, '{$1}')}`);
      expect(said.sort()).toEqual([...new Set(there)].sort());
      expect(described.paths['/api/packs']?.['post']?.security).toEqual([{ key: [] }]);
      expect(described.paths['/api/reckon/{question}']?.['get']?.security).toEqual([]);
    });
  });

  describe('whatever comes', () => {
    test.each<[string, () => ReturnType<typeof sent>, number]>([
      ['half a body', () => sent('/api/gatherings', '{"id": "G0'), 400],
      ['a list for a body', () => sent('/api/gatherings', []), 422],
      [
        'no body',
        () =>
          at.web.inject({
            method: 'POST',
            url: '/api/gatherings',
            headers: { authorization: `Bearer ${keys['maker']}` },
          }),
        422,
      ],
      ['another kind of body', () => sent('/api/gatherings', 'x', { 'content-type': 'text/plain' }), 415],
      [
        'two megabytes',
        () => sent('/api/gatherings', { id: 'G104', ...gathering, source: 'x'.repeat(2_000_000) }),
        413,
      ],
      ['a NUL', () => sent('/api/gatherings', { id: 'G104', ...gathering, source: 'a\u0000b' }), 422],
      ['half a pair', () => sent('/api/gatherings', '{"source":"\\ud800"}'), 422],
      [
        'a deep hole',
        () =>
          sent('/api/gatherings', {
            ...gathering,
            source: Array.from({ length: 50 }).reduce<unknown>((inner) => [inner], 'x'),
          }),
        422,
      ],
      ['a poisoned prototype', () => sent('/api/gatherings', '{"__proto__": {"role": "owner"}}'), 400],
      [
        'a field named like a method',
        () => sent('/api/gatherings', { id: 'G104', ...gathering, constructor: 'x', toString: 'y' }),
        422,
      ],
      ['a broken percent sign', () => asked('/api/lots/%E0%A4%A/trace'), 400],
      ['a NUL in the address', () => asked('/api/lots/%00/trace'), 422],
      ['a very long address', () => asked(`/api/lots/${'A'.repeat(5000)}/trace`), 414],
      ['a year that is none', () => asked('/api/seasons/20x6/summary.json'), 422],
      ['an unknown kind of lot', () => asked('/api/lots/26077Z/trace'), 404],
      ['a key twice as long as any', () => asked('/api/packs', 'nobody'), 401],
      [
        'an idempotency key of four thousand letters',
        () => sent('/api/gatherings', { id: 'G103', ...gathering }, { 'idempotency-key': 'k'.repeat(4000) }),
        422,
      ],
      ['correcting nothing', () => sent('/api/corrections', { entry: 'G041', why: 'x', changes: {} }), 422],
      [
        'correcting an unknown field',
        () => sent('/api/corrections', { entry: 'G041', why: 'x', changes: { colour: 'blue' } }),
        422,
      ],
    ])('%s is answered plainly', async (_, ask, status) => {
      const answer = await ask();
      expect([answer.statusCode, answer.headers['content-type']]).toEqual([
        status,
        'application/problem+json; charset=utf-8',
      ]);
      expect(answer.json()).toMatchObject({ status, title: expect.any(String), detail: expect.any(String) });
    });
  });

  test('each route is open to whom it says and to nobody else', async () => {
    const rank = ['nobody', 'guest', 'helper', 'maker', 'owner'];
    const walked: string[] = [];
    for (const { method, path, access } of at.routes) {
      if (method === 'HEAD' || path.includes('*')) continue;
      const url = path
        .replace(/:code|:id|:lot|:gtin/g, 'none')
        .replace(':year', '2026')
        .replace(':token', 'none')
        .replace(/:\w+/g, 'none');
      for (const role of ['nobody', 'guest', 'helper', 'maker']) {
        const needs = access === 'anybody' ? 'nobody' : access;
        const enough = rank.indexOf(role) >= rank.indexOf(needs);
        const headers = role === 'nobody' ? { origin: 'http://localhost' } : { authorization: `Bearer ${keys[role]}` };
        // A broken body: who may not come in must be turned away before it is read.
        const answer = await at.web.inject({
          method: method as 'POST',
          url,
          headers: { ...headers, ...(method === 'GET' ? {} : { 'content-type': 'application/json' }) },
          ...(method === 'GET' ? {} : { payload: '{"' }),
        });
        const turned =
          answer.statusCode === 401 ||
          answer.statusCode === 403 ||
          String(answer.headers.location).startsWith('/sign-in');
        if (enough ? turned && access !== 'anybody' : !turned)
          walked.push(`${role} ${method} ${url}: ${answer.statusCode}`);
        if (answer.statusCode >= 500) walked.push(`${role} ${method} ${url}: ${answer.statusCode}`);
      }
    }
    expect(walked).toEqual([]);
    expect(
      at.routes.filter((row) => row.access === 'anybody' && row.path.startsWith('/api')).map((row) => row.path),
    ).toEqual(expect.arrayContaining(['/api/openapi.json', '/api/reckon/:question']));
    expect(at.routes.length).toBeGreaterThan(100);
  });

  describe('the jar page', () => {
    test('says what the label says, in either case, and nothing of other jars', async () => {
      const code = day.jars[0] ?? '';
      const answer = await asked(`/J/${code}`, 'nobody');
      expect([answer.statusCode, answer.headers['cache-control']]).toEqual([200, 'public, no-cache']);
      expect(answer.body).toContain(`<code>${day.pack}</code>`);
      expect(answer.body).toContain('Tamarack Hollow Sugarhouse');
      for (const hidden of [...day.jars.slice(1), 'Millrace', 'G041', 'JP', '186 F'])
        expect(answer.body).not.toContain(hidden);
      expect((await asked(`/j/${code.slice(0, 4)}-${code.slice(4).toLowerCase()}`, 'nobody')).body).toBe(answer.body);
      expect((await asked(`/01/09520123456788/10/${day.pack}/21/${code}`, 'nobody')).body).toBe(answer.body);
      expect((await asked(`/01/09520123456788/10/${day.cold}/21/${code}`, 'nobody')).statusCode).toBe(404);
    });

    test('answers a code of no jar and a misread one alike', async () => {
      const pages = await Promise.all(
        ['AAAAAAAA', 'G1234985', 'x', '%20'].map((code) => asked(`/j/${code}`, 'nobody')),
      );
      expect(pages.map((each) => each.statusCode)).toEqual([404, 404, 404, 404]);
      expect(new Set(pages.map((each) => each.body)).size).toBe(1);
    });

    test('says first that its lot is recalled, what to do and whom to call', async () => {
      expect((await sent(`/api/lots/${day.pack}/recall`, { why: 'a jar came back mouldy' })).statusCode).toBe(201);
      const { body } = await asked(`/J/${day.jars[0]}`, 'nobody');
      expect(body.indexOf('RECALLED')).toBeLessThan(body.indexOf('<main>'));
      expect(body).toContain('Do not eat this syrup');
      expect(body).toContain('tel:8025550100');
      expect(body).not.toContain('mouldy');
    });
  });
});
