import { describe, expect, test } from '@jest/globals';
import { onPage } from '#libs/reports/charts/chart-style.js';
import { drawCharts } from '#libs/reports/charts/charts.js';
import { picturePlans } from '#libs/reports/charts/chart-plans.js';
import { chartShapes } from '#libs/reports/charts/chart-shape.js';
import { pictureTables } from '#libs/reports/charts/chart-tables.js';
import type { SeasonLot } from '#libs/reports/season/lot.js';
import { standing, temperature } from './tamarack-pieces.js';
import { longSeason, tamarackSeason } from './tamarack-season.js';

const textOf = (svg: string): string[] =>
  [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map((match) => match[1] ?? '');

describe('the charts of the season', () => {
  test('are labelled in place: limits, readings, classes and places as text', async () => {
    const pictures = drawCharts(tamarackSeason());
    expect(textOf(pictures.fillTemperatures.svg)).toEqual(
      expect.arrayContaining(['limit 180 °F', '183 F', '83 C', 'not read']),
    );
    expect(textOf(pictures.density.svg)).toEqual(expect.arrayContaining(['min. 66.9', 'max. 68.9', '66.4']));
    expect(textOf(pictures.syrupByDay.svg)).toEqual(expect.arrayContaining(['Amber', 'Dark', 'Very Dark', '6.0']));
    // (220 + 192 + 410) / (5.5 + 6 + 10) = 822 / 21.5 = 38.2
    expect(textOf(pictures.sapToSyrup.svg)).toEqual(expect.arrayContaining(['season 38.2', '40.0', '32.0', '41.0']));
    expect(textOf(pictures.jarsByPlace.svg).join('|')).toMatch(/Millrace Green\s+72/);
    for (const picture of Object.values(pictures)) expect(picture.svg).not.toContain('role="graphics-symbol legend"');
  });

  test.each(['paper', 'phone', 'desktop'] as const)('keep every figure clear of the axis at its left (%s)', (shape) => {
    const season = tamarackSeason();
    const large = { ...season, lots: season.lots.map((lot) => ({ ...lot, syrupLitres: lot.syrupLitres * 1000 })) };
    const middle = /<text text-anchor="middle" transform="translate\(([-\d.]+),[^>]*>(\d+\.\d)</g;
    const figures = [...drawCharts(large, shape).syrupByDay.svg.matchAll(middle)].map(
      ([, at = '', text = '']) => Number(at) - text.length * 0.3 * chartShapes[shape].font,
    );
    expect(figures.length).toBeGreaterThan(1);
    expect(Math.min(...figures)).toBeGreaterThanOrEqual(0.25 * chartShapes[shape].font);
  });

  test('never draw a Celsius reading that passes below the line', () => {
    const season = tamarackSeason();
    const lot: SeasonLot = {
      ...(season.lots[0] as SeasonLot),
      lowestFillTyped: '82 C',
      lowestFillF: 179.6,
      fills: standing([temperature('fill', '82 C', '2026-03-18T14:05:00-04:00', 'T1', 'WE')]),
    };
    const plan = JSON.stringify(picturePlans({ ...season, lots: [lot] }, chartShapes.paper).fillTemperatures.spec);
    expect(plan).toContain('"over":0,"out":false,"text":"82 C"');
  });

  test('are in Celsius, with the Celsius limit, where most readings are', async () => {
    const season = tamarackSeason();
    const lots = season.lots.slice(0, 1).map((lot) => ({
      ...lot,
      fills: standing(
        ['86 C', '81.5 C', '85 C'].map((typed) => temperature('fill', typed, '2026-03-18T14:05:00-04:00', 'T1', 'WE')),
      ),
    }));
    const formatted = textOf(drawCharts({ ...season, lots }).fillTemperatures.svg);
    expect(formatted).toEqual(expect.arrayContaining(['limit 82 °C', '81.5 C', '86 °C']));
    expect(formatted.join(' ')).not.toContain('°F');
    const plan = JSON.stringify(picturePlans({ ...season, lots }, chartShapes.paper).fillTemperatures.spec);
    expect(plan).toContain('"over":4,"out":false,"text":"86 C"');
    expect(plan).toContain('"over":-0.5,"out":true,"text":"81.5 C"');
  });

  test('are the same for the same figures, and differ for others', async () => {
    const one = drawCharts(tamarackSeason());
    expect(drawCharts(tamarackSeason())).toEqual(one);
    expect(drawCharts(longSeason(20)).density).not.toEqual(one.density);
  });

  test.each(['paper', 'phone', 'desktop'] as const)('draw no reading over another, on %s', async (name) => {
    const shape = chartShapes[name];
    const season = tamarackSeason();
    const crowded: SeasonLot = {
      ...(season.lots[0] as SeasonLot),
      fills: standing(
        ['186 F', '185 F', '184.5 F', '186.5 F', '179 F', '178.5 F', '187 F', '186 F'].map((typed, n) =>
          temperature('fill', typed, `2026-03-18T14:${10 + 4 * n}:00-04:00`, 'T1', 'WE'),
        ),
      ),
    };
    const { svg } = drawCharts({ ...season, lots: [crowded] }, name).fillTemperatures;
    const text = [
      ...svg.matchAll(/<text [^>]*text-anchor="(\w+)" transform="translate\(([-\d.]+),([-\d.]+)\)"[^>]*>([\d.]+ F)</g),
    ];
    expect(text.length).toBeGreaterThan(3);
    expect(text.map((word) => word[4])).toEqual(expect.arrayContaining(['179 F', '178.5 F']));
    const boxes = text.map(([, anchor, x, y, text]) => {
      const width = 0.54 * shape.font * (text ?? '').length;
      const left = Number(x) - (anchor === 'middle' ? width / 2 : anchor === 'end' ? width : 0);
      return { text, left, right: left + width, baseline: Number(y) };
    });
    for (const [n, one] of boxes.entries())
      for (const other of boxes.slice(n + 1)) {
        const isOver =
          one.left < other.right &&
          other.left < one.right &&
          Math.abs(one.baseline - other.baseline) < 0.8 * shape.font;
        expect({ one, other, isOver }).toEqual({ one, other, isOver: false });
      }
  });

  test.each([
    ['paper', 346, 9, 11],
    ['phone', 358, 11, 14],
    ['desktop', 970, 12, 16],
  ] as const)(
    'are as wide as their place on %s, %i across, so that their text has its stated size',
    async (name, width, least, most) => {
      for (const many of [1, 13, 60]) {
        const pictures = drawCharts(longSeason(many), name);
        for (const picture of Object.values(pictures)) {
          const drawn = Number(/viewBox="0 0 ([\d.]+)/.exec(picture.svg)?.[1]);
          const sizes = [...picture.svg.matchAll(/font-size="([\d.]+)px"/g)].map(([, size]) => Number(size));
          const shown = sizes.map((size) => Math.round(10 * size * Math.min(1.2, width / drawn)) / 10);
          expect([picture.title, drawn > width * 0.8, drawn < width * 1.03]).toEqual([picture.title, true, true]);
          for (const size of shown)
            expect({ of: picture.title, size, fits: size >= least - 0.5 && size <= most + 0.5 }).toMatchObject({
              fits: true,
            });
        }
      }
    },
  );

  test('of a single day are by the hour, with the day below and the value beside each point', async () => {
    const season = tamarackSeason();
    const [first] = season.lots as [SeasonLot];
    const [boil] = season.boils;
    const oneDay = { ...season, lots: [first], boils: boil ? [boil] : [] };
    for (const name of ['paper', 'phone', 'desktop'] as const) {
      const pictures = drawCharts(oneDay, name);
      const fills = textOf(pictures.fillTemperatures.svg);
      expect(fills).toContain('18 Mar');
      expect(fills.filter((text) => /^\d\d:\d\d$/.test(text)).length).toBeGreaterThanOrEqual(2);
      for (const { reading } of first.fills) expect(fills).toContain(reading.typed);
      expect(textOf(pictures.density.svg)).toEqual(expect.arrayContaining(['18 Mar', first.brix?.toFixed(1)]));
      const byDay = textOf(pictures.syrupByDay.svg);
      expect(byDay.filter((text) => text === '18 Mar')).toHaveLength(1);
      expect(byDay).toContain((first.syrupLitres / 3.785411784).toFixed(1));
    }
  });

  test('say so where there is nothing to draw', async () => {
    const pictures = drawCharts({ ...tamarackSeason(), lots: [], boils: [] });
    expect(textOf(pictures.fillTemperatures.svg)).toContain('No pack is recorded.');
    expect(textOf(pictures.sapToSyrup.svg)).toContain('No boil has both sap and syrup recorded.');
  });

  test('take their colours from the page that shows them', async () => {
    const { density } = drawCharts(tamarackSeason());
    const svg = onPage(density.svg);
    expect(svg).toContain('currentColor');
    expect(svg).toContain('var(--chart-band');
    expect(svg).not.toContain('"#1d1a16"');
  });
});

describe('the table under each chart', () => {
  const tables = pictureTables(tamarackSeason());
  const line = (name: keyof typeof tables, first: string): readonly string[] =>
    tables[name].lines.find(([cell]) => cell === first) ?? [];

  test('gives every reading in a jar as it was read, in its own unit, and how many were too cold', () => {
    expect(line('fillTemperatures', '26077A-1')).toEqual([
      '26077A-1',
      '19 Mar 15:00',
      '85 C at 15:05, 83 C at 15:17, 84.5 C at 15:29',
      'hot enough',
    ]);
    expect(line('fillTemperatures', '26078A-1').slice(2)).toEqual([
      '179 F at 13:05, 184 F at 13:17, 181 F at 13:29',
      'TOO COLD: 1 of 3',
    ]);
    expect(
      tables.fillTemperatures.lines.filter(([, , read]) => read === 'not recorded').map(([, , , result]) => result),
    ).toEqual(['NOT RECORDED']);
  });

  test('gives the density as it was read beside the calculated value', () => {
    expect(line('density', '26076A-1')).toEqual([
      '26076A-1',
      '18 Mar 14:00',
      '60.6 Bx at 185 F',
      '67.1 ± 0.3',
      'within',
    ]);
  });

  test('adds up to what the season made, boiled and sent out', () => {
    const season = tamarackSeason();
    const made = season.lots.reduce((sum, lot) => sum + lot.syrupLitres, 0) / 3.785411784;
    expect(tables.syrupByDay.lines.at(-1)?.at(-1)).toBe(made.toFixed(1));
    for (const cells of tables.syrupByDay.lines) expect(cells).toHaveLength(tables.syrupByDay.columns.length);
    // 822 gal of sap for 21.5 gal of syrup
    expect(tables.sapToSyrup.lines.at(-1)).toEqual(['season', '', '', '', '38.2 to 1']);
    const sold = season.lots.flatMap((lot) => lot.sentTo).filter((sent) => ['sale', 'gift'].includes(sent.kind));
    expect(tables.jarsByPlace.lines.at(-1)).toEqual([
      'together',
      String(sold.reduce((sum, sent) => sum + sent.jars, 0)),
    ]);
  });

  test('shows syrup that was packed twice, so that the sum is not compared with what the boils made', () => {
    const season = tamarackSeason();
    const [first, ...others] = season.lots as [SeasonLot, ...SeasonLot[]];
    const again = { ...first, inputs: [{ code: '26078A-2', volumeTyped: '2 gal', millilitres: 2 * 3785.411784 }] };
    const { lines } = pictureTables({ ...season, lots: [again, ...others] }).syrupByDay;
    expect(lines.at(-1)?.[0]).toBe('season, 2.0 of it packed again');
    expect(tables.syrupByDay.lines.at(-1)?.[0]).toBe('season');
  });

  test('has no line where there is nothing to draw', () => {
    for (const table of Object.values(pictureTables({ ...tamarackSeason(), lots: [], boils: [] })))
      expect(table.lines).toEqual([]);
  });
});
