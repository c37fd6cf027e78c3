import { describe, expect, test } from '@jest/globals';
import { buildApp } from '../../apps/server/app.js';
import { apiSuite, gathering } from '../support/api-suite.js';
import { engines } from '../support/engines.js';

describe.each(engines())('A request sent again with its key, on $name', (engine) => {
  const keyed = apiSuite(engine);
  const { sent, entries } = keyed;
  let keys = 0;
  const nextKey = () => ({ 'idempotency-key': `again-${++keys}` });
  const seenIn = ({ statusCode, body, headers }: Awaited<ReturnType<typeof sent>>) => ({
    statusCode,
    body,
    location: headers.location,
    etag: headers['etag'],
    type: headers['content-type'],
  });

  const twice = async (url: string, body: unknown, between: () => Promise<unknown> = async () => undefined) => {
    const key = nextKey();
    const first = await sent(url, body, key);
    expect([url, first.statusCode, first.body]).toEqual([url, 201, expect.any(String)]);
    await between();
    const before = await entries();
    expect(seenIn(await sent(url, body, key))).toEqual(seenIn(first));
    expect(await entries()).toBe(before);
    return first;
  };

  test('gets the first answer, of every way to write', async () => {
    const { pack } = keyed.day;
    await twice('/api/gatherings', { id: 'G200', ...gathering });
    await twice('/api/gatherings/G200/additions', { temperature: '38 F' });
    await twice('/api/corrections', { entry: 'G200', why: 'misread', changes: { volume: '81 gal' } });
    await twice(`/api/lots/${pack}/hold`, { why: 'a lid that did not sit' });
    await twice(`/api/lots/${pack}/release`, { why: 'all lids looked at' });
    await twice(`/api/lots/${pack}/labels`, { stock: 'letter-10-up-102x51', from: 1, to: 2 });
    await twice('/api/dispatches', {
      id: 'D200',
      lot: pack,
      jars: '1',
      sentAt: '2026-03-20T09:00',
      to: 'a neighbour',
    });
    await twice('/api/voids', { entry: 'D200', why: 'entered twice' });
    expect((await twice('/api/voids', { entry: 'G200', why: 'never gathered' })).json()).toMatchObject({
      id: 'G200',
      outcome: 'new',
    });
  });

  test('gets it though others have written about the record since, and though it was voided', async () => {
    const changes = (volume: string) => ({ entry: 'G201', why: 'misread', changes: { volume } });
    await twice('/api/gatherings', { id: 'G201', ...gathering }, () => sent('/api/corrections', changes('70 gal')));
    await twice('/api/corrections', changes('71 gal'), () =>
      sent('/api/corrections', { entry: 'G201', why: 'misread', changes: { source: 'upper lines' } }),
    );
    await twice('/api/corrections', changes('72 gal'), () =>
      sent('/api/voids', { entry: 'G201', why: 'never gathered' }),
    );
  });

  test('gets the first answer of a file, and another file under its key is refused', async () => {
    const file = (id: string) => `id,gathered_at,source,volume\n${id},2026-03-19T15:00,lower lines,80 gal\n`;
    const key = nextKey();
    const send = (id: string, more: Record<string, string> = {}) =>
      sent('/api/imports/gatherings', file(id), { ...key, 'content-type': 'text/csv', ...more }, 'owner');
    const first = await send('G210');
    expect([first.statusCode, first.json()]).toEqual([201, expect.objectContaining({ written: 1, same: 0 })]);
    expect(seenIn(await send('G210'))).toEqual(seenIn(first));
    const other = await send('G211');
    expect([other.statusCode, other.json<{ type: string }>().type]).toEqual([422, 'urn:boilbook:problem:key-used']);
  });

  test('gets it from another process, which has only the book', async () => {
    const key = nextKey();
    const body = { id: 'G220', ...gathering };
    const first = await sent('/api/gatherings', body, key);
    const { app } = await buildApp(keyed.at.server);
    try {
      const again = await app
        .getHttpAdapter()
        .getInstance()
        .inject({
          method: 'POST',
          url: '/api/gatherings',
          payload: JSON.stringify(body),
          headers: { 'content-type': 'application/json', authorization: `Bearer ${keyed.keys['maker']}`, ...key },
        });
      expect([again.statusCode, again.body]).toEqual([first.statusCode, first.body]);
    } finally {
      await app.close();
    }
  });

  test('gets an answer made from the log where the first was not kept', async () => {
    const key = nextKey();
    const body = { id: 'G230', ...gathering };
    const first = await sent('/api/gatherings', body, key);
    await keyed.at.book.writeHousehold((sql) => sql.statement('DELETE FROM household_answer'));
    const again = await sent('/api/gatherings', body, key);
    expect([again.statusCode, again.json()]).toEqual([201, first.json()]);
    const { pack } = keyed.day;
    const held = await sent(`/api/lots/${pack}/hold`, { why: 'a loose lid' }, nextKey());
    await keyed.at.book.writeHousehold((sql) => sql.statement('DELETE FROM household_answer'));
    const heldAgain = await sent(
      `/api/lots/${pack}/hold`,
      { why: 'a loose lid' },
      { 'idempotency-key': `again-${keys}` },
    );
    expect([heldAgain.statusCode, heldAgain.json()]).toEqual([201, held.json()]);
    await sent('/api/dispatches', {
      id: 'D230',
      lot: keyed.day.pack,
      jars: '1',
      sentAt: '2026-03-20T09:00',
      to: 'a shop',
      kind: 'retained',
    });
    const voided = await sent('/api/voids', { entry: 'D230', why: 'entered twice' }, nextKey());
    await keyed.at.book.writeHousehold((sql) => sql.statement('DELETE FROM household_answer'));
    const voidedAgain = await sent(
      '/api/voids',
      { entry: 'D230', why: 'entered twice' },
      { 'idempotency-key': `again-${keys}` },
    );
    expect([voidedAgain.statusCode, voidedAgain.json()]).toEqual([201, voided.json()]);
  });

  test('gets its own answer and not that of another script under the same key', async () => {
    const key = nextKey();
    const mine = await sent('/api/gatherings', { id: 'G240', ...gathering }, key);
    const theirs = await sent('/api/gatherings', { id: 'G241', ...gathering }, key, 'owner');
    expect([mine.json<{ id: string }>().id, theirs.json<{ id: string }>().id]).toEqual(['G240', 'G241']);
    expect(seenIn(await sent('/api/gatherings', { id: 'G241', ...gathering }, key, 'owner'))).toEqual(seenIn(theirs));
  });

  test('is kept for thirty days', async () => {
    const key = nextKey();
    await sent('/api/gatherings', { id: 'G250', ...gathering }, key);
    const kept = async () =>
      (await keyed.at.book.read.rows<{ id: string }>`SELECT body AS id FROM household_answer`).filter(({ id }) =>
        id.includes('G250'),
      ).length;
    expect(await kept()).toBe(1);
    keyed.at.clock.now = new Date(keyed.at.clock.now.getTime() + 31 * 24 * 3600 * 1000);
    await sent('/api/gatherings', { id: 'G251', ...gathering }, nextKey());
    expect(await kept()).toBe(0);
  });
});
