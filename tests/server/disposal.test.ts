import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import { gatherings } from '#libs/actions/kinds/gathering.js';
import { record } from '#libs/actions/record/record.js';
import { boils } from '#libs/actions/kinds/boil.js';
import { houses } from '#libs/actions/kinds/house.js';
import { receipts } from '#libs/actions/kinds/receipt.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';

let at: TestServer;
let cookie: string;

beforeAll(async () => {
  at = await startServer();
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: at.clock.now, zone: 'America/New_York' };
  const formatted = async (...result: Parameters<typeof record> extends [unknown, unknown, ...infer R] ? R : never) => {
    const answer = await record(at.book, context, ...result);
    if ('problem' in answer) throw new Error(JSON.stringify(answer.problem));
  };
  await formatted(houses, {
    name: 'Tamarack Hollow Sugarhouse',
    town: 'Harrow Notch',
    place: 'Vermont',
    hydrometerMadeFor: '60-F',
  });
  await formatted(gatherings, {
    id: 'G001',
    gatheredAt: '2026-03-17T16:30',
    source: 'North slope, buckets',
    volume: '40 gal',
  });
  const neighbour = { supplier: 'Bracken Lane Sugarbush', contact: 'Bracken Lane', receivedAt: '2026-03-18T09:00' };
  await formatted(receipts, { ...neighbour, id: 'R001', volume: '5 gal', density: '67 Bx', allergens: 'none' });
  await formatted(receipts, { ...neighbour, id: 'R002', volume: '60 gal', density: '2 Bx' });
  const password = 'steam over the roof';
  const added = await addPerson(at.book, 'home', { initials: 'JP', name: 'June Pascoe', role: 'helper', password });
  if ('problem' in added) throw new Error(JSON.stringify(added.problem));
  cookie = await signedIn(at, 'JP', password);
}, 60_000);
afterAll(() => at.close());

const page = async (url: string): Promise<string> => {
  const answer = await at.web.inject({ url, headers: { cookie } });
  expect([url, answer.statusCode]).toEqual([url, 200]);
  return answer.body;
};
const send = (url: string, fields: Record<string, string>) => posted(at, url, fields, { cookie });

test('Today offers bought syrup to be packed and bought sap to be boiled', async () => {
  const today = await page('/');
  expect(today).toMatch(/5 gal of Bracken Lane Sugarbush’s syrup left[^]*?href="\/packs\/begin\?from=R001"/);
  expect(today).toMatch(/60 gal of Bracken Lane Sugarbush’s sap left[^]*?href="\/boils\/begin"/);
});

test('a helper writes off soured sap from its page, and Today no longer has it waiting', async () => {
  expect(await page('/')).toMatch(/40 gal from [^<]+ waiting/);
  expect(await page('/lots/G001')).toContain('href="/lots/G001/disposal"');
  expect(await page('/lots/G001/disposal')).toContain('40 gal left by the records');
  const some = await send('/lots/G001/disposal', { how: 'spilt', volume: '10', 'volume~unit': 'gal', 'at~ago': 'now' });
  expect([some.statusCode, some.headers.location]).toEqual([303, '/lots/G001']);
  expect(await page('/')).toMatch(/30 gal from [^<]+ waiting/);
  const rest = await send('/lots/G001/disposal', { how: 'thrown-out', why: 'ropy', 'at~ago': 'now' });
  expect(rest.statusCode).toBe(303);
  expect(await page('/')).not.toContain('G001');
  const lot = await page('/lots/G001');
  expect(lot).toContain('None left.');
  expect(lot).toMatch(/Used or thrown out\.[^]*thrown out[^]*ropy/);
});

test('too much is refused with a sentence, and what was typed stays in the form', async () => {
  const refused = await send('/lots/R001/disposal', {
    how: 'house',
    volume: '9',
    'volume~unit': 'gal',
    why: 'a party',
  });
  expect(refused.statusCode).toBe(409);
  expect(refused.body).toContain('R001 has 5 gal left: 9 gal is 4 gal more than that.');
  expect(refused.body).toContain('value="a party"');
  const blank = await send('/lots/R001/disposal', {});
  expect(blank.statusCode).toBe(422);
  expect(blank.body).toContain('What became of it: enter');
});

test('syrup of a boil in no jar is listed when the season is closed, until its use is recorded', async () => {
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: at.clock.now, zone: 'America/New_York' };
  const boil = { beganAt: '2026-03-18T07:30', sapVolume: '100 gal', syrupVolume: '3 gal', filterTemp: '190 F' };
  const saved = await record(at.book, context, boils, {
    ...boil,
    filterMedium: 'wool cone',
    defoamer: 'none',
    by: 'WE',
  });
  if ('problem' in saved) throw new Error(JSON.stringify(saved.problem));
  const request = '3 gal of its syrup is in no jar, and what became of it is not recorded.';
  expect(await page('/season/2026')).toContain(request);
  await send(`/lots/${saved.id}/disposal`, { how: 'house', volume: '2.99', 'volume~unit': 'gal', 'at~ago': 'now' });
  // A jug is not that exact: a small enough difference raises no question.
  expect(await page('/season/2026')).not.toContain('in no jar');
});

test('bulk syrup is offered for packing, however many boils came after it', async () => {
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: at.clock.now, zone: 'America/New_York' };
  const boil = async (beganAt: string): Promise<string> => {
    const saved = await record(at.book, context, boils, {
      beganAt,
      sapVolume: '40 gal',
      syrupVolume: '1 gal',
      by: 'WE',
    });
    if ('problem' in saved) throw new Error(JSON.stringify(saved.problem));
    return saved.id;
  };
  const waits = await boil('2026-02-01T07:30');
  for (let n = 0; n < 42; n++) {
    const used = await boil(`2026-03-${String(1 + (n % 16)).padStart(2, '0')}T09:00`);
    await send(`/lots/${used}/disposal`, { how: 'house', 'at~ago': 'now' });
  }
  const offered = await page('/packs/begin');
  expect(offered).toContain(`value="${waits}"`);
  expect(offered.match(/name="fromLots" value="26\d{3}[A-Z]+"/g)?.length).toBeLessThan(5);
}, 60_000);
