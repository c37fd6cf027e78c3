import { beforeAll, expect, test } from '@jest/globals';
import { engines } from '../support/engines.js';
import { apiSuite } from '../support/api-suite.js';

const [engine] = engines();
if (!engine) throw new Error('no database to test on');
const keyed = apiSuite(engine);
let before = 0;
beforeAll(async () => {
  before = await keyed.entries();
});

const pack = {
  fromLots: ['26077A:1 qt'],
  packedAt: '2026-03-19T10:00',
  container: 'glass jar 8 fl oz',
  jars: '4',
  fillTemps: ['186 F'],
  by: 'OE',
};
const tomorrow = new Date(Date.now() + 86_400_000).toISOString();

test.each<[string, string, object, string, RegExp]>([
  ['185 °C in the jar', 'packs', { ...pack, fillTemps: ['185 C'] }, 'fillTemps', /did you mean 185 °F\?/],
  ['a pack before its boil', 'packs', { ...pack, packedAt: '2025-03-19T10:00' }, 'packedAt', /after boil 26077A began/],
  [
    'a gathering of tomorrow',
    'gatherings',
    { id: 'G900', gatheredAt: tomorrow, source: 'lower lines', volume: '80 gal' },
    'gatheredAt',
    /Is the clock right\?/,
  ],
])('%s is reported at its field over /api, and nothing is written', async (_, kind, body, field, says) => {
  const answer = await keyed.sent(`/api/${kind}`, body);
  expect(answer.statusCode).toBe(422);
  expect(answer.json<{ faults: object[] }>().faults).toMatchObject([{ field, expected: expect.stringMatching(says) }]);
  expect(await keyed.entries()).toBe(before);
});
