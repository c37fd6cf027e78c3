import { expect, test } from '@jest/globals';
import { designLabels, type DesignName } from '#libs/labels/content/label.js';
import { textPath } from '#libs/labels/drawing/text-path.js';
import { layoutLabel } from '#libs/labels/layout/layout-label.js';
import type { PlacedText } from '#libs/labels/layout/fit-text.js';
import { loadStocks } from '#libs/labels/stocks/stocks.js';
import { halfPint } from '../support/tamarack-hollow.js';

/** The highest point of a text's letters, in mm from the label's top. Paths have 1000 units an em, upwards. */
function topMm({ text, face, emMm, baselineMm }: PlacedText): number {
  const numbers = (textPath(text, face).match(/-?\d+/g) ?? []).map(Number);
  const highest = numbers.reduce((most, value, index) => (index % 2 === 1 ? Math.max(most, value) : most), 0);
  return baselineMm - (highest / 1000) * emMm;
}

test.each(Object.keys(designLabels) as DesignName[])(
  'no letter of the %s layout comes within 1 mm of a frame',
  (design) => {
    for (const name of ['Tamarack Hollow Sugarhouse', 'Érablière du Haut-Tamarac'])
      for (const stock of loadStocks().filter(({ shape }) => shape !== 'oval')) {
        const content = { ...halfPint, maker: { ...halfPint.maker, name } };
        const placed = layoutLabel({
          content,
          stock,
          dpi: 300,
          design,
          symbolText: 'HTTPS://BOILBOOK.EXAMPLE/J/K7QM3XWT',
        });
        const inner = 'layout' in placed ? placed.layout.frame.at(-1) : undefined;
        if (!('layout' in placed) || !inner) continue;
        const first = Math.min(...placed.layout.texts.map(topMm));
        expect([stock.name, first - inner.yMm - inner.strokeMm / 2 >= 1]).toEqual([stock.name, true]);
      }
  },
);
