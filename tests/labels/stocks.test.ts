import { expect, test } from '@jest/globals';
import { checkStock, labelCorner, labelsPerPage, loadStocks } from '#libs/labels/stocks/stocks.js';
import { refused, stockNamed } from '../support/tamarack-hollow.js';

const sheet = stockNamed('letter-30-up-66x25');
const faultsOf = (change: Partial<Record<string, unknown>>): string =>
  checkStock({ ...sheet, ...change }).faults.join('; ');

test('letter, A4 and roll stocks come with the program, named by their geometry and valid', () => {
  const stocks = loadStocks();
  expect(stocks.length).toBeGreaterThanOrEqual(4);
  expect(new Set(stocks.map(({ name }) => name)).size).toBe(stocks.length);
  for (const stock of stocks) {
    expect(checkStock(stock)).toEqual({ stock, faults: [] });
    const [, width, height] = /(\d+)x(\d+)$/.exec(stock.name)!.map(Number);
    expect([Math.abs(stock.labelWidthMm - width!) < 1, Math.abs(stock.labelHeightMm - height!) < 1]).toEqual([
      true,
      true,
    ]);
    if (!stock.roll)
      expect(stock.name).toContain(`${stock.pageWidthMm === 210 ? 'a4' : 'letter'}-${labelsPerPage(stock)}-up`);
  }
  expect(stocks.some(({ roll }) => roll)).toBe(true);
});

test('letter sheets and rolls, used in the United States, give their true size in inches first', () => {
  const inches = (text: string): number =>
    text.split(' ').reduce((sum, part) => {
      const [over, under = '1'] = part.split('/');
      return sum + Number(over) / Number(under);
    }, 0);
  for (const stock of loadStocks().filter(({ name }) => !name.startsWith('a4-'))) {
    const said = /of ([\d /]+) × ([\d /]+) in \(([\d.]+) × ([\d.]+) mm\)/.exec(stock.words);
    expect({ name: stock.name, said: said !== null }).toEqual({ name: stock.name, said: true });
    expect(inches(said![1]!) * 25.4).toBeCloseTo(stock.labelWidthMm, 1);
    expect(inches(said![2]!) * 25.4).toBeCloseTo(stock.labelHeightMm, 1);
    expect(Number(said![3])).toBeCloseTo(stock.labelWidthMm, 0);
  }
});

test('labels are counted along the row', () => {
  expect(labelCorner(sheet, 0)).toEqual({ xMm: 4.7625, yMm: 12.7 });
  expect(labelCorner(sheet, 2)).toEqual({ xMm: expect.closeTo(144.4625, 6), yMm: 12.7 });
  expect(labelCorner(sheet, 29)).toEqual({ xMm: expect.closeTo(144.4625, 6), yMm: expect.closeTo(12.7 + 9 * 25.4, 6) });
});

test.each<[Partial<Record<string, unknown>>, string]>([
  [{ pitchXMm: 60 }, 'overlap sideways'],
  [{ pitchYMm: 25 }, 'overlap downwards'],
  [{ leftMm: -1 }, 'leaves the page at its left'],
  [{ leftMm: 10 }, 'last column leaves the page by 0.5 mm'],
  [{ rows: 11 }, 'last row leaves the page by 12.7 mm'],
  [{ labelHeightMm: 12 }, 'no room for a symbol'],
  [{ cornerMm: 20 }, 'rounder'],
  [{ columns: 0 }, 'columns'],
  [{ name: 'Sheet Of Thirty' }, 'small letters'],
  [{ labelWidthMm: 'wide' }, 'labelWidthMm'],
  [{ labelWidthMm: Number.NaN }, 'labelWidthMm'],
  [{ colour: 'white' }, 'colour'],
])('a stock with %j is refused: %s', (change, says) => {
  expect(faultsOf(change)).toContain(says);
});

test('anything but a stock is refused with a message', () => {
  expect(checkStock(null).faults).toHaveLength(1);
  expect(checkStock({}).faults.length).toBeGreaterThan(5);
});

test('nothing is drawn on a bad stock', async () => {
  const { problem, bytes } = await refused({ stock: { ...sheet, pitchXMm: 60 } });
  expect(problem).toMatchObject({ kind: 'bad-stock', faults: [expect.stringContaining('overlap')] });
  expect(bytes).toBe(0);
});
