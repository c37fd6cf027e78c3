import { describe, expect, test } from '@jest/globals';
import type { PrinterDpi } from '#libs/labels/content/label.js';
import { jarLink } from '#libs/labels/content/address.js';
import type { PlacedSymbol } from '#libs/labels/layout/label-layout.js';
import { labelCorner, labelsPerPage, loadStocks, type Stock } from '#libs/labels/stocks/stocks.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import {
  blotted,
  blurred,
  cropped,
  openPdf,
  type PartMm,
  printed,
  readByFirst,
  readBySecond,
} from '../support/read-symbols.js';
import { address, canadian, contentFor, drawn, jarsOf, runOf, stockNamed } from '../support/tamarack-hollow.js';

/** Hundreds of decodes on a machine that may be busy. */
const slowMs = 240_000;

const sizes = loadStocks().flatMap((stock) =>
  ([203, 300, 600] as PrinterDpi[]).map((dpi) => ({ name: stock.name, stock, dpi })),
);

/** The part of the label with the QR code, its quiet zone and the print near it, as a phone held over it would see. */
function symbolPart(stock: Stock, symbol: PlacedSymbol, position: number): PartMm {
  const asideMm = 5 * symbol.moduleMm;
  const sideMm = symbol.modules * symbol.moduleMm + 2 * asideMm;
  const { xMm, yMm } = labelCorner(stock, position);
  return { xMm: xMm + symbol.xMm - asideMm, yMm: yMm + symbol.yMm - asideMm, widthMm: sideMm, heightMm: sideMm };
}

describe.each(sizes)('printed on $name at $dpi dpi', ({ stock, dpi }) => {
  // Each QR code is decoded four times; large ones take longest and are the easiest to read.
  const count = dpi === 600 ? 1 : Math.min(stock.labelHeightMm > 45 ? 2 : 4, labelsPerPage(stock));
  const jars = jarsOf(count);
  const links = jars.map(({ code }) => jarLink(address, code));

  test(
    'every QR code of the sheet is read by both decoders, clean, blurred and blotted',
    async () => {
      const { pdf, drawn: made } = await drawn({ content: contentFor(stock), stock, dpi, jars });
      const document = await openPdf(pdf);
      if (dpi === 203) expect((await readByFirst(await printed(document, 1, dpi))).sort()).toEqual([...links].sort());
      const { symbol } = made.layout;
      const middleMm = (symbol.modules / 2 + 5) * symbol.moduleMm;
      for (const [index, link] of links.entries()) {
        const seen = await printed(document, 1, dpi, symbolPart(stock, symbol, index));
        const dirty = blotted(seen, middleMm, middleMm * 1.1, symbol.moduleMm * 3);
        // The first decoder reads the worst picture of them, so it needn't read the clean one; the second isn't as
        // tolerant.
        expect(await readByFirst(blurred(dirty, symbol.moduleMm * 0.3), 1)).toEqual([link]);
        for (const picture of [seen, blurred(seen, symbol.moduleMm * 0.2), dirty])
          expect(readBySecond(picture)).toBe(link);
      }
      await document.destroy();
    },
    slowMs,
  );
});

test.each([203, 300, 600] as PrinterDpi[])(
  'every edge of every module is on a dot boundary at %i dpi, shifted or not',
  async (dpi) => {
    for (const nudge of [undefined, { rightMm: 0.3, downMm: -0.7 }]) {
      const { pdf, drawn: made } = await drawn({ dpi, jars: jarsOf(31), nudge });
      const document = await openPdf(pdf);
      const page = await printed(document, 1, dpi);
      const { symbol } = made.layout;
      for (const position of [0, 14, 29]) {
        const corner = labelCorner(stockNamed('letter-30-up-66x25'), position);
        const left = corner.xMm + (nudge?.rightMm ?? 0) + symbol.xMm;
        const top = corner.yMm + (nudge?.downMm ?? 0) + symbol.yMm;
        const side = symbol.modules * symbol.moduleMm;
        const dark = cropped(
          page,
          left - symbol.moduleMm,
          top - symbol.moduleMm,
          side + 2 * symbol.moduleMm,
          side + 2 * symbol.moduleMm,
        );
        const between = dark.grey.filter((value) => value > 8 && value < 247).length;
        expect(between).toBe(0);
        expect(dark.grey.filter((value) => value === 0).length).toBeGreaterThan(dark.grey.length * 0.25);
      }
      await document.destroy();
    }
  },
);

test('the text code and the digital link are read back unchanged', async () => {
  const text = await drawn({ symbol: { kind: 'text' }, stock: stockNamed('letter-10-up-102x51'), jars: jarsOf(1) });
  const textPage = await printed(await openPdf(text.pdf), 1, 300);
  expect(await readByFirst(textPage)).toEqual([
    `LOT 26077A-1 JAR ${printedJarCode(jarsOf(1)[0]!.code)} PACKED 19 MAR 2026 TAMARACK HOLLOW SUGARHOUSE 802-555-0143`,
  ]);
  const jars = jarsOf(2);
  const gs1 = await drawn({ symbol: { kind: 'gs1', address, gtin: '036000291452' }, jars });
  const gs1Page = await printed(await openPdf(gs1.pdf), 1, 300);
  expect((await readByFirst(gs1Page)).sort()).toEqual(
    jars.map(({ code }) => `HTTPS://BOILBOOK.EXAMPLE/01/00036000291452/10/26077A-1/21/${code}`).sort(),
  );
});

test('PRACTICE across a label and two languages on it leave the QR code readable', async () => {
  const stock = stockNamed('letter-10-up-102x51');
  const jars = jarsOf(2);
  const { pdf } = await drawn({ content: { ...canadian, practice: true }, stock, jars, dpi: 203 });
  const page = await printed(await openPdf(pdf), 1, 203);
  expect((await readByFirst(page)).sort()).toEqual(jars.map(({ code }) => jarLink(address, code)).sort());
});

test(
  'of a thousand labels those of every fifth page and of the last are read',
  async () => {
    const jars = jarsOf(1000);
    const { pdf, drawn: made } = await drawn({ ...runOf({}), jars });
    expect(made).toMatchObject({ labels: 1000, pages: 34, endedAt: 10 });
    const document = await openPdf(pdf);
    const read = new Set<string>();
    const seen = (page: number): boolean => page % 5 === 1 || page === document.numPages;
    for (let page = 1; page <= document.numPages; page++)
      if (seen(page)) for (const link of await readByFirst(await printed(document, page, 203))) read.add(link);
    const there = jars.filter((_, index) => seen(Math.floor(index / 30) + 1));
    expect([...read].sort()).toEqual(there.map(({ code }) => jarLink(address, code)).sort());
    await document.destroy();
  },
  slowMs,
);
