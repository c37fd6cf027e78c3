import { expect, test } from '@jest/globals';
import { recallSuite } from '../support/recall-suite.js';

const here = recallSuite();
test('a finding says that the instrument of a density is not recorded, and that only the entry of a seal count has a time', async () => {
  const pack = await here.aPack(here.boil, {
    ...{ fromLots: [`${here.boil}:0.2 gal`], jars: '3', densityReading: '57 Bx', densityBy: '' },
    packedAt: '2026-03-20T08:00',
  });
  const { body } = await here.open(`/lots/${pack}`);
  expect(body).toContain('57 °Bx at 185 °F (instrument not recorded, judged as by hydrometer)');
  expect(body).toMatch(/0 failed by a count made or entered \d.* after filling/);
});

test('the product column of the season’s CSV says where no product was recorded', async () => {
  const [head = '', ...rows] = (await here.open('/api/seasons/2026/summary.csv')).body.trim().split('\r\n');
  const column = head.split(',').indexOf('"Product"');
  expect(column).toBeGreaterThan(0);
  expect(rows.filter((row) => row.includes('"maple syrup"'))).toEqual([]);
  expect(rows[0]?.split(',')[column]).toBe('"not recorded"');
});
