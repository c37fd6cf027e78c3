import { describe, expect, test } from '@jest/globals';
import { aKeyedBook, gathering } from '../support/keyed-book.js';
import { engines } from '../support/engines.js';

describe.each(engines())('on $name', (engine) => {
  const keyed = aKeyedBook(engine);
  const { asked: request, sent, keys } = keyed;

  describe('whatever comes', () => {
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
    ])('%s is answered plainly', async (_, ask, status) => {
      const answer = await ask();
      expect([answer.statusCode, answer.headers['content-type']]).toEqual([
        status,
        'application/problem+json; charset=utf-8',
      ]);
      expect(answer.json()).toMatchObject({ status, title: expect.any(String), detail: expect.any(String) });
    });
  });
});
