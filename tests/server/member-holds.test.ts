import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { recordOrThrow } from '../support/sugarhouse.js';
import { makeCooperative } from '../support/cooperative.js';
import { startServer, type TestServer } from '../support/server.js';

let at: TestServer;
let there: Awaited<ReturnType<typeof makeCooperative>>;
beforeAll(async () => {
  at = await startServer();
  at.clock.now = new Date('2026-05-01T22:00:00Z');
  there = await makeCooperative(at);
});
afterAll(() => at.close());

const ask = (key: string, url: string, more: { method?: 'GET' | 'POST'; body?: object } = {}) =>
  at.web.inject({
    method: more.method ?? 'GET',
    url,
    headers: { authorization: `Bearer ${key}` },
    ...(more.body ? { payload: more.body } : {}),
  });

test('the packer’s pack of a member’s syrup is held while the member holds or recalls that lot', async () => {
  const bought = { supplier: 'Bracken Lane Sugarbush', theirLot: 'BL 26050A', receivedAt: '2026-04-28T09:00' };
  const { id: receipt } = await recordOrThrow(at.book, 'receipt', { id: 'TH-R9', ...bought });
  const { id: pack } = await recordOrThrow(at.book, 'pack', {
    fromLots: `${receipt}:1 qt`,
    jars: '4',
    packedAt: '2026-04-29T10:00',
    fillTemps: '186 F jars 1-4',
  });
  let sent = 0;
  const send = () =>
    ask(there.keys.maker, '/api/dispatches', {
      method: 'POST',
      body: { id: `TH-S${sent++}`, lot: pack, jars: '1', kind: 'sale', sentAt: '2026-05-01T09:00', to: 'the stall' },
    });
  const mark = (what: string) =>
    ask(there.keys.member, `/api/lots/26050A/${what}`, {
      method: 'POST',
      body: { why: 'a bad smell at the draw-off' },
    });
  expect((await send()).statusCode).toBe(201);
  expect((await mark('hold')).statusCode).toBe(201);
  const held = await send();
  expect([held.statusCode, held.body.includes('BL 26050A')]).toEqual([409, true]);
  expect((await ask(there.keys.maker, `/api/lots/${pack}/labels.pdf`)).statusCode).toBe(409);
  expect((await mark('release')).statusCode).toBe(201);
  expect((await send()).statusCode).toBe(201);
  expect((await mark('recall')).statusCode).toBe(201);
  const recalled = await send();
  expect([recalled.statusCode, recalled.body.includes('recalled')]).toEqual([409, true]);
});
