import { beforeAll, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { done } from '../support/sugarhouse.js';
import { recallSuite } from '../support/recall-suite.js';

const here = recallSuite();
let key = '';
beforeAll(async () => {
  key = done(await addKey(here.at.book, 'home', { name: 'till', role: 'owner' }, here.at.clock.now)).key;
});
const api = async (method: 'GET' | 'POST', url: string, payload?: object) => {
  const answer = await here.at.web.inject({
    method,
    url,
    ...(payload ? { payload } : {}),
    headers: { authorization: `Bearer ${key}` },
  });
  return { status: answer.statusCode, json: JSON.parse(answer.body) as Record<string, unknown> };
};

test('milk recorded after labels and a sale holds the lot and names the buyer on every page', async () => {
  const pack = await here.aPack(here.boil);
  expect((await here.send(`/lots/${pack}/labels`, { stock: 'letter-10-up-102x51' })).statusCode).toBe(303);
  const sale = { lot: pack, jars: '2', sentAt: '2026-03-20T11:55', to: 'Millrace Green', by: 'JP' };
  expect((await api('POST', '/api/dispatches', sale)).status).toBe(201);
  expect(await here.state(pack)).toBe('open');
  const changes = { defoamer: 'butter', defoamerAllergens: 'milk' };
  const correction = { entry: here.boil, why: 'it was butter', changes };
  expect((await api('POST', '/api/corrections', correction)).status).toBe(201);

  expect(await here.state(pack)).toBe('held');
  const { body } = await here.open(`/lots/${pack}`);
  expect(body).toContain('2 to Millrace Green 2026-03-20');
  expect(body).toContain(`href="/recall?lot=${pack}"`);
  expect(body).toContain(`<a class="main-action next-action" href="/lots/${pack}/recall">Recall</a>`);
  expect(body).toContain(`href="/lots/${pack}/labels"`);
  expect((await here.open('/')).body).toContain('2 to Millrace Green 2026-03-20');
  const { json } = await api('GET', `/api/lots/${pack}`);
  expect(JSON.stringify(json)).toContain('undeclared-allergen-sent');
  expect(JSON.stringify((await api('GET', '/api/seasons/2026/summary.json')).json)).toContain('undeclared-allergen');

  // Labels are printed for the held lot, which stays held until a maker confirms that they replaced the old ones.
  expect((await here.open(`/lots/${pack}/labels`)).statusCode).toBe(200);
  const printed = await api('POST', `/api/lots/${pack}/labels`, { stock: 'letter-10-up-102x51' });
  expect(printed.status).toBe(201);
  const { body: after } = await here.open(`/lots/${pack}`);
  expect(after).toContain('The old labels are off: release');
  expect(await here.state(pack)).toBe('held');
});

test('one tap answers the question about bought syrup, and another answer has a form', async () => {
  const receipt = {
    id: 'R7',
    supplier: 'Coldwater Sugarbush',
    contact: 'their yard',
    volume: '5 gal',
    density: '67 Bx',
  };
  await here.write('receipts', { ...receipt, receivedAt: '2026-03-18T09:00', by: 'OE' });
  await here.write('receipts', { ...receipt, id: 'R8', receivedAt: '2026-03-18T09:00', by: 'OE' });
  const pack = await here.aPack('R7');
  const other = await here.aPack('R8');
  expect([await here.state(pack), await here.state(other)]).toEqual(['held', 'held']);
  const { body } = await here.open(`/lots/${pack}`);
  expect(body).toContain('The seller’s label declares none');
  expect(body).toContain(`href="/lots/${pack}#findings">Allergens of the bought syrup</a>`);
  const tap = await here.send('/sap/receipts/R7/allergens', { allergens: 'none', back: pack });
  expect([tap.statusCode, String(tap.headers.location)]).toEqual([303, expect.stringContaining(`/lots/${pack}`)]);
  expect(await here.state(pack)).toBe('open');
  expect((await here.send('/sap/receipts/R7/allergens', { allergens: 'milk', back: pack })).statusCode).toBe(422);

  const form = await here.open(`/sap/receipts/R8/allergens?back=${other}`);
  expect(form.body).toContain('Bought from Coldwater Sugarbush, their yard.');
  expect((await here.send(`/sap/receipts/R8/allergens?back=${other}`, { allergens: '' })).statusCode).toBe(422);
  const soy = await here.send(`/sap/receipts/R8/allergens?back=${other}`, { allergens: 'soy' });
  expect([soy.statusCode, String(soy.headers.location)]).toEqual([303, expect.stringContaining(`/lots/${other}`)]);
  expect(await here.state(other)).toBe('open');
});
