import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { type DesignName, designLabels, type LabelContent, type PrinterDpi } from '#libs/labels/content/label.js';
import { layoutRun } from '#libs/labels/layout/layout-run.js';
import type { LabelLayout } from '#libs/labels/layout/label-layout.js';
import { layoutLabel } from '#libs/labels/layout/layout-label.js';
import { minNetHeight } from '#libs/labels/content/net-quantity.js';
import { netHeights, placeNet } from '#libs/labels/layout/net-band.js';
import { loadStocks, type Stock } from '#libs/labels/stocks/stocks.js';
import { quietModules } from '#libs/labels/symbol/symbol.js';
import { widthEm } from '#libs/labels/drawing/type-faces.js';
import { openPdf, textsOf } from '../support/read-symbols.js';
import {
  canadian,
  contentFor,
  drawn,
  halfPint,
  jarsOf,
  millilitres,
  ounces,
  stockNamed,
} from '../support/tamarack-hollow.js';

const link = 'HTTPS://BOILBOOK.EXAMPLE/J/K7QM3XWT';
const layoutOf = (
  content: LabelContent,
  stock: Stock,
  dpi: PrinterDpi = 300,
  design?: DesignName,
): ReturnType<typeof layoutLabel> => layoutLabel({ content, stock, dpi, design, symbolText: link });

interface Box {
  readonly name: string;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/**
 * The area each element of the label covers: letters from capital height down to the baseline, the QR code with its
 * quiet zone.
 */
function boxes(layout: LabelLayout): Box[] {
  const { symbol, net } = layout;
  const quietMm = quietModules * symbol.moduleMm;
  const sideMm = symbol.modules * symbol.moduleMm;
  return [
    ...[...layout.texts, layout.code].map(({ item, text, xMm, baselineMm, widthMm, emMm }) => ({
      name: `${item}: ${text}`,
      left: xMm,
      top: baselineMm - 0.668 * emMm,
      right: xMm + widthMm,
      bottom: baselineMm,
    })),
    ...net.lines.map(({ text, xMm, baselineMm, widthMm }) => ({
      name: `Net quantity: ${text}`,
      left: xMm,
      top: baselineMm - net.letterMm,
      right: xMm + widthMm,
      bottom: baselineMm,
    })),
    {
      name: 'Symbol',
      left: symbol.xMm - quietMm,
      top: symbol.yMm - quietMm,
      right: symbol.xMm + sideMm + quietMm,
      bottom: symbol.yMm + sideMm + quietMm,
    },
  ];
}

const overlap = (one: Box, other: Box): boolean =>
  one.left < other.right - 1e-6 &&
  other.left < one.right - 1e-6 &&
  one.top < other.bottom - 1e-6 &&
  other.top < one.bottom - 1e-6;

function expectSound(layout: LabelLayout, content: LabelContent): void {
  const all = boxes(layout);
  for (const [index, box] of all.entries()) {
    expect({
      box,
      inside: box.left >= 0 && box.top >= 0 && box.right <= layout.widthMm && box.bottom <= layout.heightMm,
    }).toEqual({ box, inside: true });
    // The net quantity may overlap the code's quiet zone, which stays white; nothing else comes near it.
    for (const other of all.slice(index + 1))
      if (!(box.name.startsWith('Net') && other.name === 'Symbol'))
        expect({ box, other, overlap: overlap(box, other) }).toEqual({ box, other, overlap: false });
  }
  expectNet(layout, content);
  const { rule: diagram } = layout;
  // Descenders included: a line through the tail of a g looks like a printing fault.
  if (diagram)
    for (const { xMm, widthMm, baselineMm, emMm } of layout.texts)
      expect(
        xMm >= diagram.xMm + diagram.widthMm ||
          xMm + widthMm <= diagram.xMm ||
          diagram.yMm + 0.25 <= baselineMm - 0.668 * emMm + 1e-6 ||
          diagram.yMm - 0.25 >= baselineMm + 0.21 * emMm - 1e-6,
      ).toBe(true);
  expect(layout.symbol.moduleMm).toBeGreaterThanOrEqual(0.42);
}

/** 21 CFR 101.7(f): in the bottom 30 %, with its letter height clear above and twice an N clear beside it. */
function expectNet(layout: LabelLayout, content: LabelContent): void {
  const { net, symbol } = layout;
  const least = minNetHeight(content).millimetres;
  const small = /m/.test(net.lines.map(({ text }) => text).join()) ? net.emMm * 0.496 : Infinity;
  expect(net.letterMm).toBeGreaterThanOrEqual(least);
  expect(small).toBeGreaterThanOrEqual(content.country === 'US' ? least : 1.6);
  const clearMm = content.country === 'US' ? Math.min(small, net.letterMm) : net.letterMm;
  expect(net.topMm).toBeGreaterThanOrEqual(layout.heightMm * 0.7);
  const besideMm = 2 * widthEm('N', 'words-bold') * net.emMm;
  const right = Math.max(...net.lines.map(({ xMm, widthMm }) => xMm + widthMm));
  const dark = { left: symbol.xMm, bottom: symbol.yMm + symbol.modules * symbol.moduleMm };
  const others = [...layout.texts, layout.code].map(({ xMm, baselineMm }) => ({ left: xMm, bottom: baselineMm }));
  for (const printed of [...others, dark])
    expect(printed.bottom <= net.topMm - clearMm + 1e-6 || printed.left >= right + besideMm - 1e-6).toBe(true);
}

describe.each(loadStocks().map((stock) => ({ name: stock.name, stock })))('on $name', ({ stock }) => {
  test('its intended container is laid out without overlaps, in every design that fits', () => {
    const content = contentFor(stock);
    for (const dpi of [203, 300, 600] as const) {
      const fitting: DesignName[] = [];
      for (const design of Object.keys(designLabels) as DesignName[]) {
        const placed = layoutOf(content, stock, dpi, design);
        if (!('layout' in placed)) continue;
        fitting.push(design);
        expectSound(placed.layout, content);
      }
      expect([dpi, fitting.length]).not.toEqual([dpi, 0]);
    }
  });
});

const atHome = { ...halfPint.maker, lines: ['9 Hollow Lane', 'Harrow Notch, Vermont 05000'] };
const enFrançais = { ...halfPint.maker, lines: ['9, chemin du Vallon', 'Harrow Notch (Québec) J0J 0J0'] };
const placesAndLanguages: readonly [string, LabelContent][] = [
  ['a half pint in the United States', { ...halfPint, maker: atHome, allergens: ['milk'] }],
  ['a quart in the United States', { ...halfPint, maker: atHome, container: ounces(32) }],
  ['a graded 500 mL in Canada in both languages', { ...canadian, maker: enFrançais }],
  [
    '100 mL without a grade in Canada',
    { ...canadian, gradeText: null, gradeTextFr: undefined, container: millilitres(100) },
  ],
];

test.each(placesAndLanguages)('%s: every stock has all mandatory text at its height, or is refused', (_, content) => {
  let fits = 0;
  for (const stock of loadStocks()) {
    const placed = layoutRun({ content, stock, stocks: [stock], dpi: 300, symbol: { kind: 'text' } }, 'K7QM3XWT');
    if ('problem' in placed) continue;
    fits++;
    const { layout } = placed;
    const items = new Set(layout.texts.map(({ item }) => item));
    const expected = ['Maker', 'Address', 'Product', 'Lot', 'Packed date'];
    if (content.gradeText) expected.push('Grade');
    if (content.allergens?.length) expected.push('Allergens');
    if (content.bilingual) expected.push('Product in French');
    if (content.gradeTextFr) expected.push('Grade in French');
    expect({ stock: stock.name, lacks: expected.filter((item) => !items.has(item)) }).toEqual({
      stock: stock.name,
      lacks: [],
    });
    if (!items.has('Keeping'))
      expect(layout.notes[0]).toMatch(/^Left out, as there is no room: “Refrigerate after opening”/);
    const lowered = layout.notes.find((note) => note.includes('The size of the panel is not recorded'));
    const least = lowered ? 25.4 / 16 : minNetHeight(content).millimetres;
    const small = layout.net.lines.some(({ text }) => text.includes('m')) ? layout.net.emMm * 0.496 : Infinity;
    expect(Math.min(layout.net.letterMm, content.country === 'US' ? small : Infinity)).toBeGreaterThanOrEqual(least);
    expect(small).toBeGreaterThanOrEqual(25.4 / 16);
  }
  expect(fits).toBeGreaterThan(2);
});

test('both languages of the product have one size in every design: in Quebec none may be more prominent than French', () => {
  let compared = 0;
  for (const stock of loadStocks())
    for (const design of Object.keys(designLabels) as DesignName[]) {
      const placed = layoutOf({ ...canadian, maker: enFrançais }, stock, 300, design);
      if (!('layout' in placed)) continue;
      const sizes = placed.layout.texts.filter(({ item }) => item.startsWith('Product')).map(({ emMm }) => emMm);
      expect([stock.name, design, Math.max(...sizes) - Math.min(...sizes)]).toEqual([stock.name, design, 0]);
      compared++;
    }
  expect(compared).toBeGreaterThan(10);
});

test('a label with any text is valid, or refused with the item named, never clipped', () => {
  let laidOut = 0;
  const text = fc.string({ unit: fc.constantFrom(...'ABCDEFabcdefgéŁř -,.&'), minLength: 1, maxLength: 90 });
  fc.assert(
    fc.property(
      fc.record({
        name: text,
        line: text,
        grade: text,
        keep: text,
        allergens: fc.array(text, { maxLength: 3 }),
        ounces: fc.constantFrom(1, 3.4, 8, 12, 16, 32, 64),
      }),
      fc.constantFrom(...loadStocks()),
      fc.constantFrom('ledger' as const, 'lamp' as const, 'market' as const),
      (formatted, stock, design) => {
        const content: LabelContent = {
          ...halfPint,
          maker: { name: formatted.name, lines: [formatted.line], phone: '802-555-0143' },
          gradeText: formatted.grade,
          keep: formatted.keep,
          allergens: formatted.allergens,
          container: ounces(formatted.ounces),
        };
        const placed = layoutOf(content, stock, 203, design);
        if ('layout' in placed) {
          laidOut++;
          expectSound(placed.layout, content);
        } else expect(placed.unfit.every(({ item, because }) => item.length > 0 && because.length > 0)).toBe(true);
      },
    ),
    { numRuns: 150 },
  );
  expect(laidOut).toBeGreaterThan(30);
});

test('required text has at least its legal height: 1/16 in for the maker in the US, 1.6 mm for all in Canada', () => {
  const letterMm = (text: string, emMm: number): number => emMm * (/\p{Ll}/u.test(text) ? 0.496 : 0.668);
  const us = layoutOf(halfPint, stockNamed('letter-30-up-66x25'));
  if (!('layout' in us)) throw new Error('it must fit');
  for (const { item, text, emMm } of us.layout.texts)
    expect(letterMm(text, emMm)).toBeGreaterThanOrEqual(
      ['Maker', 'Address', 'Product'].includes(item) ? 25.4 / 16 - 1e-9 : 0.999,
    );
  const canada = layoutOf(canadian, stockNamed('a4-12-up-99x42'));
  if (!('layout' in canada)) throw new Error('it must fit');
  for (const { text, emMm } of [...canada.layout.texts, canada.layout.code])
    expect(letterMm(text, emMm)).toBeGreaterThanOrEqual(1.6 - 1e-9);
});

test.each([
  [31, 1.6],
  [33, 3.2],
  [300, 6.4],
])('in Canada, on a panel of %p cm², the grade in both languages is %p mm high in the print', async (cm2, least) => {
  const content = { ...canadian, panel: { areaMm2: cm2 * 100 } };
  const stock = stockNamed(least > 3.2 ? 'letter-2-up-203x127' : 'letter-6-up-102x85');
  const { pdf } = await drawn({ content, stock, jars: jarsOf(1) });
  const texts = await textsOf(await openPdf(pdf), 1);
  const graded = texts.filter(({ text }) => /grade|catégorie|amber|ambré/i.test(text));
  const all = graded.map(({ text }) => text).join(' ');
  expect(all).toMatch(/Canada Grade A.*Canada Catégorie A/i);
  for (const { text, emMm } of graded)
    expect(emMm * (/\p{Ll}/u.test(text) ? 0.496 : 0.668)).toBeGreaterThanOrEqual(least - 0.01);
});

test('a measured panel decides the height of the net quantity, in the steps of the rule', () => {
  const square = 25.4 ** 2;
  const heights = [5, 5.01, 25, 25.01, 100, 100.01, 400, 400.01].map(
    (inches) => minNetHeight({ ...halfPint, panel: { areaMm2: inches * square } }).millimetres / 25.4,
  );
  expect(heights).toEqual(
    [1 / 16, 1 / 8, 1 / 8, 3 / 16, 3 / 16, 1 / 4, 1 / 4, 1 / 2].map((inch) => expect.closeTo(inch, 9)),
  );
  // 3.5 in high, 2.5 in across: 0.4 × 3.5 × π × 2.5 = 11 square inches.
  expect(minNetHeight({ ...halfPint, panel: { heightMm: 88.9, diameterMm: 63.5 } }).millimetres).toBeCloseTo(3.175, 9);
});

test('a measured panel of 5 in² or less is exempt from the bottom 30 %; an unmeasured or larger one is not', () => {
  const low = { ...stockNamed('letter-30-up-66x25'), labelHeightMm: 14, labelWidthMm: 56 };
  const parts = ['16.9 FL OZ (1 PT 0.9 FL OZ)', '500 mL'];
  expect(placeNet(parts, netHeights(25.4 / 16, 'US'), low)).toBeUndefined();
  const letOff = placeNet(parts, netHeights(25.4 / 16, 'US'), low, true)!;
  expect(letOff.topMm).toBeGreaterThanOrEqual(7);
  expect(letOff.letterMm).toBeGreaterThanOrEqual(25.4 / 16);
  const refusedFor = (panel: LabelContent['panel']): string => {
    const placed = layoutOf({ ...halfPint, container: millilitres(500), panel }, low);
    return 'unfit' in placed ? placed.unfit.map(({ item }) => item).join() : '';
  };
  // 50 × 60 mm is 4.65 in²; on so low a label the other text has no room, the net quantity has.
  expect(refusedFor({ areaMm2: 3000 })).not.toContain('Net quantity');
  expect(refusedFor({ areaMm2: 3300 })).toBe('Net quantity');
  expect(refusedFor(undefined)).toBe('Net quantity');
});

test('what is too large for a stock is refused, with the stocks that hold it', () => {
  const placed = layoutOf({ ...halfPint, container: ounces(64) }, stockNamed('letter-30-up-66x25'));
  expect(placed).toEqual({ unfit: [{ item: 'Net quantity', because: expect.stringContaining('4.8 mm') }] });
});
