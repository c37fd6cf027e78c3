import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { house, owner } from '../support/newcomer.js';
import { posted, startServer, type TestServer } from '../support/server.js';
import { recordOrThrow } from '../support/sugarhouse.js';

let at: TestServer;
let cookie = '';
beforeAll(async () => {
  at = await startServer();
  at.clock.now = new Date('2026-05-01T22:00:00Z');
  await at.web.inject('/set-up');
  const done = await posted(at, '/set-up', { ...house, ...owner, word: at.lines[0] ?? '' });
  cookie = done.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
  for (const kind of ['gathering', 'boil']) await recordOrThrow(at.book, kind);
  await recordOrThrow(at.book, 'pack', { fromLots: '26077A:1 gal', jars: '16', packedAt: '2026-03-19T10:00' });
});
afterAll(() => at.close());

const page = async (url: string): Promise<string> => (await at.web.inject({ url, headers: { cookie } })).body;

test('a pack of a held boil leads to the boil, and one packed from a recalled boil to its own recall', async () => {
  expect((await posted(at, '/lots/26077A/hold', { why: 'an odd smell' }, { cookie })).statusCode).toBe(303);
  const ofHeld = await page('/lots/26077A-1');
  expect(ofHeld).toContain('href="/lots/26077A">Go to 26077A</a>');
  expect(ofHeld).toContain('16 jars wait.');
  expect(ofHeld).not.toContain('with the new readings');
  expect((await posted(at, '/lots/26077A/recall', { why: 'lead in the pan' }, { cookie })).statusCode).toBe(303);
  const more = { fromLots: '26077A:1 gal', jars: '16', packedAt: '2026-03-19T11:00' };
  const { id } = await recordOrThrow(at.book, 'pack', more);
  const held = await page(`/lots/${id}`);
  expect(held).not.toContain('Go to 26077A');
  expect(held).toContain(`href="/lots/${id}/recall">Recall this one too</a>`);
  expect((await at.web.inject({ url: `/lots/${id}/recall`, headers: { cookie } })).statusCode).toBe(200);
});
