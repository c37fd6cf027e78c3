import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import type { SeasonLot } from '#libs/reports/season/lot.js';
import { layoutStamp, stampSvg } from '#libs/reports/diagram/stamp.js';
import { classSwatch, swatch } from '#libs/reports/diagram/swatch.js';
import { layoutDiagram } from '#libs/reports/diagram/layout.js';
import { halfWidthPt, stages, type LotDiagram } from '#libs/reports/diagram/shape.js';
import { boilDiagram } from '#libs/reports/diagram/boil-diagram.js';
import { packDiagram } from '#libs/reports/diagram/pack-diagram.js';
import { diagramSvg } from '#libs/reports/diagram/lot-diagram.js';
import { diagramText } from '#libs/reports/diagram/description.js';
import { tamarackSeason } from './tamarack-season.js';

const season = tamarackSeason();
function pack(code: string): LotDiagram {
  const lot = season.lots.find((one) => one.lot === code);
  if (!lot) throw new Error(`no lot ${code}`);
  return packDiagram(season, lot);
}

describe('the lot diagram as numbers', () => {
  test('narrows as the logarithm of the volume, and never to nothing', () => {
    const [sap, syrup, jar] = [1_500_000, 37_500, 237].map((ml) => halfWidthPt(ml, 'across'));
    // 1500 L and 37.5 L: log10(1501) / log10(38.5) = 3.176 / 1.585 = 2.00
    expect((sap ?? 0) / (syrup ?? 1)).toBeCloseTo(2.0, 1);
    expect(jar).toBeGreaterThanOrEqual(0.7);
    fc.assert(
      fc.property(fc.nat(2_000_000), fc.nat(2_000_000), (one, other) => {
        const [less, more] = [Math.min(one, other), Math.max(one, other)];
        expect(halfWidthPt(less, 'across')).toBeLessThanOrEqual(halfWidthPt(more, 'across'));
      }),
    );
  });

  test('runs from left to right, stage by stage, each line narrower at its end', () => {
    const layout = layoutDiagram(pack('26076A-1'), 'across', 720);
    for (const band of layout.bands) {
      expect(band.to.xPt).toBeGreaterThan(band.from.xPt);
      expect(band.to.halfPt).toBeLessThanOrEqual(band.from.halfPt);
    }
    expect(layout.texts.filter((one) => one.kind === 'stage').map((one) => one.text)).toEqual([...stages]);
  });

  test('joins where lots blend and forks where a lot splits', () => {
    const blend = layoutDiagram(pack('26081X-1'), 'across', 720);
    const packed = blend.dots.at(-1);
    expect(blend.bands.filter((band) => band.to.xPt === packed?.xPt && band.to.yPt === packed.yPt)).toHaveLength(2);
    const split = layoutDiagram(pack('26077A-1'), 'across', 720);
    const lastX = Math.max(...split.bands.map((band) => band.to.xPt));
    expect(split.bands.filter((band) => band.to.xPt === lastX)).toHaveLength(4);
  });

  test.each(['across', 'down'] as const)('keeps its text inside and clear of each other, %s', (shape) => {
    const diagrams = [
      ...season.lots.map((lot) => packDiagram(season, lot)),
      ...season.boils.map((boil) => boilDiagram(season, boil)),
    ];
    for (const diagram of diagrams) {
      const layout = layoutDiagram(diagram, shape, shape === 'down' ? 288 : 720);
      for (const one of layout.texts) {
        expect(one.yPt).toBeGreaterThan(0);
        expect(one.yPt).toBeLessThanOrEqual(layout.heightPt);
        for (const other of layout.texts)
          if (one !== other && one.xPt === other.xPt && one.anchor === other.anchor)
            expect(Math.abs(one.yPt - other.yPt)).toBeGreaterThan(0.7 * Math.min(one.sizePt, other.sizePt));
      }
      for (const band of layout.bands)
        for (const end of [band.from, band.to]) {
          const across = shape === 'down' ? end.xPt : end.yPt;
          expect(across - end.halfPt).toBeGreaterThanOrEqual(0);
          expect(across + end.halfPt).toBeLessThanOrEqual(shape === 'down' ? layout.widthPt : layout.heightPt);
        }
    }
  });

  test('runs down the left edge of a narrow page', () => {
    const layout = layoutDiagram(pack('26077A-1'), 'down', 288);
    expect(layout.widthPt).toBe(288);
    for (const band of layout.bands) expect(band.to.yPt).toBeGreaterThan(band.from.yPt);
    const linesEnd = Math.max(...layout.bands.flatMap(({ from, to }) => [from.xPt + from.halfPt, to.xPt + to.halfPt]));
    for (const one of layout.texts) expect(one.xPt).toBeGreaterThan(linesEnd);
  });
});

describe('the lot diagram as a drawing and as text', () => {
  test('shows each reading as it was typed, and a stopped one as stopped', () => {
    const svg = diagramSvg(pack('26077A-1'));
    expect(svg).toContain('>83 C lowest fill<');
    const stopped = layoutDiagram(pack('26081X-1'), 'across', 720);
    expect(stopped.texts.filter((one) => one.kind === 'stop').map((one) => one.text)).toEqual([
      'lowest fill not read',
      '66.4 °Bx density',
    ]);
  });

  test('draws steps to come as a dotted line', () => {
    const [boil] = season.boils;
    if (!boil) throw new Error('no boil');
    const resting = { ...season, lots: [] };
    const layout = layoutDiagram(boilDiagram(resting, { ...boil, restedFrom: null }), 'across', 720);
    expect(layout.bands.filter((band) => !band.happened)).toHaveLength(2);
    expect(diagramSvg(boilDiagram(resting, boil))).toMatch(/stroke-dasharray="0\.1 5"[^>]*><path/);
    expect(diagramText(boilDiagram(resting, boil))).toContain('Not yet packed.');
  });

  test('has the same content as text', () => {
    expect(diagramText(pack('26077A-1'))).toBe(
      'Gathered: G041, 220 gal, sap 2.1 Bx; G042, 192 gal, sap 2 Bx. ' +
        'Boiled: 26076A, 5.5 gal, water boils 211.0 F, finish 218.4 F; 26077A, 6 gal, water boils 211.0 F, finish 218.4 F. ' +
        'Filtered: felt cone, filter 190 F; felt cone, filter 190 F. Resting: since 23:45; since 23:45. ' +
        'Packed: 26077A-1, 80 jars, lowest fill 83 C, density 67.4 °Bx. ' +
        'Sent out: Millrace Green, 24 jars; =SUM(A1) stall, 10 jars; June Pascoe (gift), 2 jars. Not yet sent out: on hand, 38 jars.',
    );
  });

  test('is one self-contained SVG that a strict content policy allows', () => {
    const hostile: SeasonLot = {
      ...(season.lots[0] as SeasonLot),
      sentTo: [{ place: '<script>alert("x")</script> & \u0007co', kind: 'sale', jars: 1 }],
    };
    for (const shape of ['across', 'down', 'small'] as const) {
      const svg = diagramSvg(packDiagram(season, hostile), shape);
      expect(svg).not.toMatch(/<script|style=|href|url\((?!#)|\u0007/);
      expect(svg).toMatch(/^<svg [^>]*role="img"[\s\S]*<\/svg>$/);
    }
    expect(diagramSvg(pack('26077A-1'), 'small')).not.toContain('<text');
  });
});

describe('the stamp', () => {
  test('has its word, its shape and its second line', () => {
    const svg = stampSvg('RELEASED', 'WE 2026-03-20');
    expect(svg).toContain('>RELEASED<');
    expect(svg).toContain('aria-label="RELEASED, WE 2026-03-20"');
    expect(svg).not.toContain('style=');
    expect(layoutStamp('HELD', '').turnDegrees).not.toBe(0);
    expect(stampSvg('HELD', '<b>')).not.toContain('<b>');
  });
});

describe('the colour swatch', () => {
  const lightness = (hex: string): number =>
    parseInt(hex.slice(1, 3), 16) + parseInt(hex.slice(3, 5), 16) + parseInt(hex.slice(5, 7), 16);

  test('is white paper where all light passes, and darker with less', () => {
    expect(swatch(100)).toBe('#ffffff');
    for (let percent = 5; percent < 100; percent += 5)
      expect(lightness(swatch(percent))).toBeLessThan(lightness(swatch(percent + 5)));
  });

  test('is amber, never green or blue: more red than green, more green than blue', () => {
    for (const name of ['Golden', 'Amber', 'Dark', 'Very Dark'] as const) {
      const hex = classSwatch(name);
      const [red, green, blue] = [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16));
      expect(red).toBeGreaterThan(green ?? 0);
      expect(green).toBeGreaterThan(blue ?? 0);
    }
  });
});

test('says from when until when the syrup rested, and of broken jars what happened to them', () => {
  const [boil] = season.boils;
  const [lot] = season.lots;
  if (!boil || !lot) throw new Error('no boil or lot');
  const rested = { ...boil, restedFrom: '2026-03-18T20:10:00-04:00', restedUntil: '2026-03-19T09:00:00-04:00' };
  expect(diagramText(boilDiagram(season, rested))).toContain('Resting: 20:10 to 09:00');
  const broken = { ...lot, sentTo: [{ place: 'the shelf fell', kind: 'broken', jars: 3 }] };
  expect(diagramText(packDiagram(season, broken))).toContain('Sent out: broken: the shelf fell, 3 jars');
});
