import { afterAll, describe, expect, test } from '@jest/globals';
import { onPage } from '#libs/reports/chart-ink.js';
import { closeCharts, drawCharts } from '#libs/reports/charts.js';
import { picturePlans } from '#libs/reports/picture-plans.js';
import type { SeasonLot } from '#libs/reports/season-lot.js';
import { longSeason, tamarackSeason, temperature } from './tamarack-season.js';

afterAll(closeCharts);

const textOf = (svg: string): string[] =>
  [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map((match) => match[1] ?? '');

describe('the pictures of the season', () => {
  test('are labelled where they stand: limits, readings, classes and places in words', async () => {
    const pictures = await drawCharts(tamarackSeason());
    expect(textOf(pictures.fillTemperatures.svg)).toEqual(
      expect.arrayContaining(['limit 180 °F', '183 F', '83 C', 'not read']),
    );
    expect(textOf(pictures.density.svg)).toEqual(expect.arrayContaining(['least 66.9', 'most 68.9', '66.4']));
    expect(textOf(pictures.syrupByDay.svg)).toEqual(expect.arrayContaining(['Amber', 'Dark', 'Very Dark', '6.0']));
    // (220 + 192 + 410) / (5.5 + 6 + 10) = 822 / 21.5 = 38.2
    expect(textOf(pictures.sapToSyrup.svg)).toEqual(expect.arrayContaining(['season 38.2', '40.0', '32.0', '41.0']));
    expect(textOf(pictures.jarsByPlace.svg).join('|')).toMatch(/Millrace Green\s+72/);
    for (const picture of Object.values(pictures)) expect(picture.svg).not.toContain('role="graphics-symbol legend"');
  });

  test('never stand a Celsius reading that passes under the line', () => {
    const season = tamarackSeason();
    const lot: SeasonLot = {
      ...(season.lots[0] as SeasonLot),
      lowestFillTyped: '82 C',
      lowestFillF: 179.6,
      readings: [temperature('fill', '82 C', '2026-03-18T14:05:00-04:00', 'T1', 'WE')],
    };
    const plan = JSON.stringify(picturePlans({ ...season, lots: [lot] }).fillTemperatures.spec);
    expect(plan).toContain('"over":0,"out":false,"words":"82 C"');
  });

  test('are drawn once for the same figures, and again for others', async () => {
    const one = await drawCharts(tamarackSeason());
    expect(await drawCharts(tamarackSeason())).toBe(one);
    expect(await drawCharts(longSeason(20))).not.toBe(one);
  });

  test('are drawn anew after the thread was stopped', async () => {
    await closeCharts();
    expect((await drawCharts(longSeason(7))).density.svg).toContain('<svg');
  });

  test('say so where there is nothing to draw', async () => {
    const pictures = await drawCharts({ ...tamarackSeason(), lots: [], boils: [] });
    expect(textOf(pictures.fillTemperatures.svg)).toContain('No lot was packed.');
    expect(textOf(pictures.sapToSyrup.svg)).toContain('No boil has both its sap and its syrup.');
  });

  test('take their ink from the page that shows them', async () => {
    const { density } = await drawCharts(tamarackSeason());
    const svg = onPage(density.svg);
    expect(svg).toContain('currentColor');
    expect(svg).toContain('var(--chart-band');
    expect(svg).not.toContain('"#1d1a16"');
  });
});
