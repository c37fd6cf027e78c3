import { describe, expect, test } from '@jest/globals';
import { apiSuite } from '../support/api-suite.js';
import { engines } from '../support/engines.js';

interface ListPage {
  readonly items: readonly { readonly id: string }[];
  readonly all: number;
  readonly next: string | null;
}

describe.each(engines())('on $name', (engine) => {
  const keyed = apiSuite(engine);
  const { get: request, sent, entries } = keyed;

  describe('lots', () => {
    test('a cold pack is held and gets no labels, and the answer names the rule', async () => {
      expect((await request(`/api/packs/${keyed.day.cold}`)).json()).toMatchObject({ status: 'held' });
      const labels = await request(`/api/lots/${keyed.day.cold}/labels.pdf`);
      expect([labels.statusCode, labels.headers['content-type']]).toEqual([
        409,
        'application/problem+json; charset=utf-8',
      ]);
      expect(labels.json<{ detail: string }>().detail).toContain('178');
      const released = await sent(`/api/lots/${keyed.day.cold}/release`, { why: 'looks fine' });
      expect(released.statusCode).toBe(409);
    });

    test('are released by an action with new readings, then a release with a reason', async () => {
      const acted = await sent('/api/actions', {
        lot: keyed.day.cold,
        found: 'first jar at 178 F',
        done: 'reheated, packed again',
        jars: 'all',
        cause: 'cold-jar',
        fillTemps: ['188 F jar 8', '187 F jar 15'],
        densityReading: '60.4 Bx',
        densityAt: '185 F',
        densityBy: 'hydrometer',
      });
      expect(acted.statusCode).toBe(201);
      const released = await sent(`/api/lots/${keyed.day.cold}/release`, { why: 'new readings pass' });
      expect([
        released.statusCode,
        (await request(`/api/lots/${keyed.day.cold}`)).json<{ status: string }>().status,
      ]).toEqual([201, 'released']);
    });

    test('labels are returned as a PDF and change nothing', async () => {
      const before = await entries();
      const labels = await request(`/api/lots/${keyed.day.pack}/labels.pdf?from=3&to=4`);
      expect([labels.statusCode, labels.headers['content-type'], labels.rawPayload.subarray(0, 5).toString()]).toEqual([
        200,
        'application/pdf',
        '%PDF-',
      ]);
      expect((await request(`/api/lots/${keyed.day.pack}/labels.pdf?stock=nothing`)).statusCode).toBe(422);
      expect((await request(`/api/lots/${keyed.day.pack}/labels.pdf?from=0`)).statusCode).toBe(422);
      expect((await request(`/api/lots/${keyed.day.pack}/labels.pdf?skip=lots`)).statusCode).toBe(422);
      expect(await entries()).toBe(before);
    });

    test('a jar is traced to its boil and sap, and to where it was sold', async () => {
      const trace = (await request(`/api/jars/${keyed.day.jars[0]?.toLowerCase()}`)).json<{ boils: object[] }>();
      expect(trace).toMatchObject({
        kind: 'jar',
        pack: keyed.day.pack,
        gatherings: ['G041'],
        jars: { made: 30, sentOut: 12 },
      });
      expect((await request(`/api/lots/${keyed.day.pack}/trace`)).json<{ boils: object[] }>().boils).toEqual(
        trace.boils,
      );
      expect((await request('/api/jars/AAAAAAAA')).statusCode).toBe(404);
    });

    test('lists are returned a page at a time', async () => {
      const first = (await request('/api/packs?year=2026&most=1')).json<ListPage>();
      expect([first.items.length, first.all, first.items[0]?.id]).toEqual([1, 2, keyed.day.pack]);
      const second = (await request(first.next ?? '')).json<ListPage>();
      expect([second.items[0]?.id, second.next]).toEqual([keyed.day.cold, null]);
      expect((await request('/api/packs?most=0')).statusCode).toBe(422);
    });
  });
});
