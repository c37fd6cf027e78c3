import { expect, test } from '@jest/globals';
import { labelCorner } from '#libs/labels/stocks/stocks.js';
import { widthEm } from '#libs/labels/drawing/type-faces.js';
import { cropped, openPdf, printed, textsOf } from '../support/read-symbols.js';
import { canadian, drawn, halfPint, jarsOf, stockNamed } from '../support/tamarack-hollow.js';

test('the finished file has the text at the sizes and places of the layout', async () => {
  for (const [content, name] of [
    [halfPint, 'letter-30-up-66x25'],
    [canadian, 'letter-10-up-102x51'],
  ] as const) {
    const stock = stockNamed(name);
    const { pdf, drawn: made } = await drawn({ content, stock, jars: jarsOf(4) });
    const texts = await textsOf(await openPdf(pdf), 1);
    for (const position of [0, 1, 3]) {
      const corner = labelCorner(stock, position);
      for (const line of [
        ...made.layout.texts,
        ...made.layout.net.lines.map((net) => ({ ...net, emMm: made.layout.net.emMm })),
      ]) {
        const first = line.text.split(' ')[0]!;
        const found = texts.find(
          ({ text, xMm, baselineMm }) =>
            text.startsWith(first) &&
            Math.abs(xMm - corner.xMm - line.xMm) < 0.02 &&
            Math.abs(baselineMm - corner.yMm - line.baselineMm) < 0.02,
        );
        expect({ line: line.text, em: found?.emMm }).toEqual({ line: line.text, em: expect.closeTo(line.emMm, 2) });
      }
    }
  }
});

test('measured on the print, figures and the m of mL are as high as the law requires', async () => {
  const dpi = 600;
  const stock = stockNamed('letter-30-up-66x25');
  const { pdf, drawn: made } = await drawn({ stock, dpi, jars: jarsOf(1) });
  const page = await printed(await openPdf(pdf), 1, dpi);
  const { net } = made.layout;
  const corner = labelCorner(stock, 0);
  const heightOf = (fromMm: number, widthMm: number): number => {
    const strip = cropped(page, corner.xMm + fromMm, corner.yMm + net.topMm - 1, widthMm, net.letterMm + 1.9);
    const rows = Array.from({ length: strip.height }, (_, row) =>
      strip.grey.subarray(row * strip.width, (row + 1) * strip.width).some((value) => value < 128),
    );
    return (rows.filter(Boolean).length * 25.4) / dpi;
  };
  const line = net.lines[0]!;
  const before = widthEm('8 FL OZ (236 ', 'words-bold') * net.emMm;
  const mWide = widthEm('m', 'words-bold') * net.emMm;
  expect(line.text).toBe('8 FL OZ (236 mL)');
  expect(heightOf(line.xMm, widthEm('8', 'words-bold') * net.emMm)).toBeGreaterThanOrEqual(25.4 / 8);
  expect(heightOf(line.xMm + before + 0.1, mWide - 0.2)).toBeGreaterThanOrEqual(25.4 / 8);
  // The m is the typeface's own, not drawn larger than its neighbours.
  expect(heightOf(line.xMm + before + 0.1, mWide - 0.2)).toBeLessThan(net.letterMm * 0.78);
});
