import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { engines } from '../support/engines.js';
import { owner, setUp } from '../support/newcomer.js';
import { type TestServer, signedIn, startServer } from '../support/server.js';
import { fullSeason, recordOrThrow } from '../support/sugarhouse.js';

describe.each(engines())('the sorted table of packs on $name', (engine) => {
  let server: TestServer;
  let cookie = '';
  beforeAll(async () => {
    await engine.start();
    server = await startServer({}, { engine });
    await fullSeason(server.book);
    await setUp(server);
    cookie = await signedIn(server, 'WE', owner.password);
  });
  afterAll(async () => {
    await server?.close();
    await engine.stop();
  });

  /** The cells of each row, from the top. */
  const cells = async (query: string): Promise<string[][]> => {
    const { body } = await server.web.inject({ url: `/packs?${query}`, headers: { cookie } });
    const rows = body.match(/<tr><td[^]*?<\/tr>/g) ?? [];
    return rows.map((row) => [...row.matchAll(/<td[^>]*>(?:<a[^>]*>)?([^<]*)/g)].map(([, text = '']) => text));
  };

  test('shows of each pack its jars and whose initials it has, also after these were corrected', async () => {
    const before = await cells('sort=by');
    expect(before.map(([lot]) => lot).sort()).toEqual(['26077A-1', '26079X-1']);
    for (const row of before) expect(row).toEqual(expect.arrayContaining(['OE', row[0] === '26077A-1' ? '48' : '8']));
    await recordOrThrow(server.book, 'pack', { lot: '26077A-1', by: 'JP' }, {}, { why: 'JP filled these' });
    expect((await cells('sort=by')).map((row) => [row[0], row.includes('JP'), row.includes('OE')])).toEqual([
      ['26077A-1', true, false],
      ['26079X-1', false, true],
    ]);
    expect((await cells('q=JP')).map(([lot]) => lot)).toEqual(['26077A-1']);
  });
});
