import { describe, expect, test } from '@jest/globals';
import { apiSuite, gathering } from '../support/api-suite.js';
import { engines } from '../support/engines.js';

interface Made {
  readonly id: string;
  readonly entry: number;
  readonly outcome: string;
  readonly syrupVolume: string;
}
interface Faulty {
  readonly faults: readonly { readonly field: string }[];
}

describe.each(engines())('on $name', (engine) => {
  const keyed = apiSuite(engine);
  const { get: request, sent, entries } = keyed;

  describe('writing', () => {
    test('answers 201 with the address, the entry and the record once it is committed', async () => {
      const answer = await sent('/api/gatherings', { id: 'G042', ...gathering });
      expect([answer.statusCode, answer.headers.location]).toEqual([201, '/api/gatherings/G042']);
      expect(answer.json()).toMatchObject({ id: 'G042', outcome: 'new', volume: '80 gal', status: 'open', by: 'JP' });
      expect(answer.json<{ entry: number }>().entry).toBe(await entries());
      expect((await request('/api/gatherings/G042')).json()).toMatchObject({
        volume: '80 gal',
        entry: answer.json<{ entry: number }>().entry,
      });
    });

    test('reports every fault of a body at once, as problem details, and writes nothing', async () => {
      const before = await entries();
      const answer = await sent('/api/gatherings', { source: 7, volume: '80', sugar: '2', smell: 'woody' });
      expect([answer.statusCode, answer.headers['content-type']]).toEqual([
        422,
        'application/problem+json; charset=utf-8',
      ]);
      const fields = answer.json<Faulty>().faults.map((fault) => fault.field);
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
      expect([again.statusCode, again.json()]).toEqual([201, first.json()]);
      const other = await sent('/api/gatherings', { ...tapped, volume: '90 gal' }, key);
      expect([other.statusCode, other.json<{ type: string }>().type]).toEqual([422, 'urn:boilbook:problem:key-used']);
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
      expect(new Set(answers.map((each) => `${each.statusCode} ${each.body}`)).size).toBe(1);
      expect(answers[0]?.statusCode).toBe(201);
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
      const { id } = begun.json<{ id: string }>();
      const line = await sent('/api/lines', { lot: id, at: '2026-03-20T08:00', temperature: '214.5 F' }, {}, 'helper');
      expect(line.statusCode).toBe(201);
      const done = await sent(`/api/boils/${id}/additions`, { syrupVolume: '2 gal', finishedAt: '2026-03-20T11:00' });
      expect([done.statusCode, done.json<Made>().outcome, done.json<Made>().syrupVolume]).toEqual([
        201,
        'added',
        '2 gal',
      ]);
      expect((await sent('/api/boils', { beganAt: '2026-03-20T11:30', by: 'WE' })).json<Faulty>().faults).toEqual([
        expect.objectContaining({ field: 'syrupVolume' }),
      ]);
    });

    test('a writer who has not seen the last entry about a lot is shown it', async () => {
      const seen = (await request(`/api/packs/${keyed.day.pack}`)).json<{ entry: number }>().entry;
      const first = await sent(
        '/api/corrections',
        { entry: keyed.day.pack, why: 'misread', changes: { clarity: 'clear' } },
        { 'if-match': `"${seen}"` },
      );
      expect(first.statusCode).toBe(201);
      const second = await sent(
        '/api/corrections',
        { entry: keyed.day.pack, why: 'misread', changes: { clarity: 'cloudy' } },
        { 'if-match': `"${seen}"` },
      );
      expect([second.statusCode, second.json<{ type: string }>().type]).toEqual([
        412,
        'urn:boilbook:problem:changed-since',
      ]);
    });

    test('a correction needs its reason, and the history keeps both', async () => {
      const without = await sent('/api/corrections', { entry: 'G041', why: ' ', changes: { volume: '118 gal' } });
      expect(without.statusCode).toBe(422);
      await sent('/api/corrections', {
        entry: 'G041',
        why: 'the dipstick was read upside down',
        changes: { volume: '118 gal' },
      });
      const history = (await request('/api/lots/G041/history')).json<{
        entries: { deed: string; record?: { typed: { volume: string } } }[];
      }>().entries;
      expect(history.map((each) => [each.deed, each.record?.typed.volume])).toEqual(
        expect.arrayContaining([
          ['record', '120 gal'],
          ['correct', '118 gal'],
        ]),
      );
      expect(JSON.stringify(history)).not.toContain('seed');
    });
  });
});
