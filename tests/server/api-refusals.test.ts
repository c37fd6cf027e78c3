import { gzipSync } from 'node:zlib';
import { describe, expect, test } from '@jest/globals';
import { apiSuite, gathering } from '../support/api-suite.js';
import { engines, sqlite } from '../support/engines.js';
import type { Described } from '../support/api-description.js';

/** Words that a library would say of itself. */
const libraryTerms =
  /zod|typeorm|fastify|FST_|sqlite|postgres|ECONN|ERR_|SyntaxError|TypeError|received|NaN|undefined|Invalid |[<>]=|Too (big|small)/i;
const inAddress: Readonly<Record<string, string>> = {
  year: '2026',
  kind: 'pack',
  question: 'density',
  sha256: '0'.repeat(64),
};

describe.each(engines())('on $name', (engine) => {
  const keyed = apiSuite(engine);
  const { get: request, sent, keys } = keyed;
  const bytes = (payload: Buffer, headers: Readonly<Record<string, string>> = {}) =>
    keyed.at.web.inject({
      method: 'POST',
      url: '/api/gatherings',
      payload,
      headers: { 'content-type': 'application/json', authorization: `Bearer ${keys['maker']}`, ...headers },
    });

  describe('any request', () => {
    test.each<[string, () => ReturnType<typeof sent>, number]>([
      ['half a body', () => sent('/api/gatherings', '{"id": "G0'), 400],
      ['a list for a body', () => sent('/api/gatherings', []), 422],
      [
        'no body',
        () =>
          keyed.at.web.inject({
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
        'a number beyond any',
        () => sent('/api/gatherings', `{"id":"G104","gatheredAt":"2026-03-19T15:00","source":"x","volume":1e400}`),
        422,
      ],
      [
        'a number beyond any in a list of an unknown field',
        () => sent('/api/gatherings', '{"id":"G104","more":[-1e400]}'),
        422,
      ],
      [
        'bytes that are not UTF-8',
        () => {
          const [before = '', after = ''] = JSON.stringify({ id: 'G104', ...gathering, source: 'é' }).split('é');
          return bytes(Buffer.concat([Buffer.from(before), Buffer.from([0xe9]), Buffer.from(after)]));
        },
        400,
      ],
      [
        'a compressed body',
        () => bytes(gzipSync(JSON.stringify({ id: 'G104', ...gathering })), { 'content-encoding': 'gzip' }),
        415,
      ],
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
      ['a broken percent sign', () => request('/api/lots/%E0%A4%A/trace'), 400],
      ['a NUL in the address', () => request('/api/lots/%00/trace'), 422],
      ['a very long address', () => request(`/api/lots/${'A'.repeat(5000)}/trace`), 414],
      ['a year that is none', () => request('/api/seasons/20x6/summary.json'), 422],
      ['an unknown kind of lot', () => request('/api/lots/26077Z/trace'), 404],
      ['a key twice as long as any', () => request('/api/packs', 'nobody'), 401],
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
    ])('%s gets a plain answer', async (_, ask, status) => {
      const answer = await ask();
      expect([answer.statusCode, answer.headers['content-type']]).toEqual([
        status,
        'application/problem+json; charset=utf-8',
      ]);
      expect(answer.json()).toMatchObject({ status, title: expect.any(String), detail: expect.any(String) });
      expect(answer.body).not.toMatch(libraryTerms);
    });
  });
});

// What a question may be is decided before the database is asked, so one engine shows it.
describe('what is asked', () => {
  const keyed = apiSuite(sqlite());
  const { get: request, sent } = keyed;

  test('what is asked wrongly of each address is said in plain words', async () => {
    const filled = (_: string, name: string): string => inAddress[name] ?? keyed.day.pack;
    const described = (await request('/api/openapi.json', 'nobody')).json<Described>();
    // Of parameters that are alike, as those of each list are, one is enough.
    const parameters = new Map(
      Object.entries(described.paths).flatMap(([path, { get }]) =>
        (get?.parameters ?? [])
          .filter((each) => each.in === 'query')
          .map((each) => [JSON.stringify(each), `${path.replace(/\{(\w+)\}/g, filled)}?${each.name}=`] as const),
      ),
    );
    let refused = 0;
    for (const begins of parameters.values())
      for (const text of ['%20', 'abc', '-1', '1e9', 'x'.repeat(400), `1&${begins.split('?')[1]}2`]) {
        const answer = await request(begins + text, 'owner');
        if (answer.statusCode === 200) continue;
        refused++;
        const outcome = [answer.statusCode < 500, libraryTerms.exec(answer.body)?.[0], answer.body.includes('saved')];
        expect([begins + text, ...outcome]).toEqual([begins + text, true, undefined, false]);
      }
    expect(refused).toBeGreaterThan(80);
    const logo = await sent('/api/logo', { file: '???' }, {}, 'owner');
    expect(logo.json<{ detail: string }>().detail).toBe('File: expected a file in base64, got "???"');
  });
});
