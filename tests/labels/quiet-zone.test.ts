import { expect, test } from '@jest/globals';
import type { LabelContent } from '#libs/labels/content/label.js';
import { layoutRun } from '#libs/labels/layout/layout-run.js';
import { labelCorner, loadStocks } from '#libs/labels/stocks/stocks.js';
import { openPdf, type Picture, printed } from '../support/read-symbols.js';
import { address, canadian, drawn, halfPint, jarsOf, millilitres, ounces } from '../support/tamarack-hollow.js';

/** Finer than any label printer, so that the thinnest mark in the quiet zone is several dots. */
const dpi = 1200;
const slowMs = 240_000;

const drum: LabelContent['container'] = { typed: 'drum 40 gal', millilitres: 151416.47, unit: 'gal', amount: 40 };
const contents: readonly [string, LabelContent][] = [
  ['a half pint in the United States', halfPint],
  ['a quart in the United States', { ...halfPint, container: ounces(32) }],
  ['a half pint with allergens in a practice book', { ...halfPint, practice: true, allergens: ['milk'] }],
  ['500 mL in Canada in both languages', canadian],
  [
    '100 mL in Canada without a grade',
    { ...canadian, gradeText: null, gradeTextFr: undefined, container: millilitres(100) },
  ],
  ['a drum', { ...halfPint, container: drum }],
];

test.each(contents)(
  'the QR code has four or more white modules around it on every stock and design: %s',
  async (_, content) => {
    let measured = 0;
    for (const stock of loadStocks())
      for (const design of content === halfPint ? (['ledger', 'lamp', 'market'] as const) : (['ledger'] as const)) {
        const request = { content, stock, design, dpi: 300, symbol: { kind: 'link', address } } as const;
        if ('problem' in layoutRun(request, 'K7QM3XWT')) continue;
        const { pdf, drawn: made } = await drawn({ ...request, jars: jarsOf(1) });
        const { symbol, widthMm, heightMm } = made.layout;
        const corner = labelCorner(stock, 0);
        const besideMm = 5 * symbol.moduleMm;
        const sideMm = symbol.modules * symbol.moduleMm;
        const document = await openPdf(pdf);
        const page = await printed(document, 1, dpi, {
          xMm: corner.xMm + symbol.xMm - besideMm,
          yMm: corner.yMm + symbol.yMm - besideMm,
          widthMm: sideMm + 2 * besideMm,
          heightMm: sideMm + 2 * besideMm,
        });
        await document.destroy();
        const whiteModules = white(page, besideMm, sideMm) / symbol.moduleMm;
        const edgeModules =
          Math.min(symbol.xMm, symbol.yMm, widthMm - symbol.xMm - sideMm, heightMm - symbol.yMm - sideMm) /
          symbol.moduleMm;
        const enough = whiteModules >= 4 && edgeModules >= 4;
        expect({ stock: stock.name, design, whiteModules, edgeModules, enough }).toMatchObject({ enough: true });
        measured++;
      }
    expect(measured).toBeGreaterThan(0);
  },
  slowMs,
);

/** The distance in mm from the QR code to the nearest ink outside it, or to the picture's edge where there is none. */
function white({ width, height, grey }: Picture, besideMm: number, sideMm: number): number {
  const dotMm = 25.4 / dpi;
  const from = Math.round(besideMm / dotMm);
  const until = Math.round((besideMm + sideMm) / dotMm);
  let nearest = from;
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      if (grey[y * width + x]! >= 128) continue;
      const away = Math.max(from - x, x + 1 - until, from - y, y + 1 - until);
      // The code's own edge may be half a dot from the dot it is counted at.
      if (away > 2) nearest = Math.min(nearest, away - 1);
    }
  return nearest * dotMm;
}

test('the symbol stays four modules clear of the code below it, to whichever dot a printer moves it', () => {
  let below = 0;
  for (const stock of loadStocks())
    for (const dpi of [203, 300, 600] as const)
      for (const symbol of [{ kind: 'link', address }, { kind: 'text' }] as const) {
        const placed = layoutRun({ content: halfPint, stock, dpi, symbol }, 'K7QM3XWT');
        if ('problem' in placed) continue;
        const { symbol: square, code } = placed.layout;
        const sideMm = square.modules * square.moduleMm;
        // Else the code stands beside the symbol.
        if (code.xMm > square.xMm + sideMm || code.xMm + code.widthMm < square.xMm) continue;
        below++;
        const topOfRoundLettersMm = code.baselineMm - (0.668 + 0.013) * code.emMm;
        const clearMm = topOfRoundLettersMm - square.yMm - sideMm - 25.4 / dpi / 2;
        const enough = clearMm / square.moduleMm > 3.9999;
        expect({ stock: stock.name, dpi, symbol: symbol.kind, enough }).toMatchObject({ enough: true });
      }
  expect(below).toBeGreaterThan(20);
});
