import { describe, expect, test } from '@jest/globals';
import { drawCharts } from '#libs/reports/charts/charts.js';
import { columnWidths } from '#libs/pdf/column-widths.js';
import { writeSeasonPdf, type SeasonPdfOptions } from '#libs/reports/season/pdf.js';
import type { Season } from '#libs/reports/season/season.js';
import fc from 'fast-check';
import { bytesOf, overruns, readPdf, readTaggedPdf } from '../support/read-pdf.js';
import { temperature } from './tamarack-pieces.js';
import { longSeason, tamarackSeason } from './tamarack-season.js';
import { sideRecords } from './tamarack-side.js';

const createdAt = new Date('2026-06-01T13:00:00Z');
const pdfOf = (season: Season, options: Partial<SeasonPdfOptions> = {}): Promise<Buffer> =>
  bytesOf((out) => writeSeasonPdf(season, out, { createdAt, ...options }));

describe('the yearly summary as PDF', () => {
  test('has the season from page one to signatures, in that order', async () => {
    const season = tamarackSeason();
    const read = await readPdf(await pdfOf(season, { pictures: drawCharts(season), lotPages: 'all' }));
    expect(read.title).toBe('Tamarack Hollow Sugarhouse, season 2026: yearly lot summary');
    expect(read.language).toBe('en-US');
    const order = [
      'Tamarack Hollow Sugarhouse',
      'Season 2026, yearly lot summary',
      '26076A-1',
      'Holds, recalls and deviations',
      'Signed by: not recorded',
      'Record: 212 entries, root',
      'Deviations and what was done',
      'The season in pictures',
      'The boils',
      'Supporting records',
      'It does not prove that an entry was true',
      'For the sugarhouse, name and signature',
      'Lot 26076A-1',
      'Lot 26078A-2',
    ];
    const text = read.text.replace(/\s+/g, ' ');
    let from = 0;
    for (const label of order) {
      const at = text.indexOf(label, from);
      expect({ words: label, found: at >= 0 }).toEqual({ words: label, found: true });
      from = at;
    }
    expect(read.pages[0]?.text.replace(/\s/g, '')).toContain(season.record.root);
  });

  test('numbers every page, and the last knows how many there are', async () => {
    const read = await readPdf(await pdfOf(longSeason(60)));
    expect(read.pages.length).toBeGreaterThan(3);
    read.pages.forEach((page, index) =>
      expect(page.text.replace(/\s+/g, ' ')).toContain(`page ${index + 1} of ${read.pages.length}`),
    );
  });

  test('prints a temperature as it was read, and a correction struck through beside the new value', async () => {
    const read = await readPdf(await pdfOf(tamarackSeason(), { lotPages: 'all' }));
    const lots = read.pages[0]?.text ?? '';
    expect(lots).toContain('83 C');
    expect(lots).not.toContain('181.4');
    const corrected = read.pages.find((page) => page.text.includes('Lot 26078A-2'))?.text.replace(/\s+/g, ' ');
    expect(corrected).toMatch(/Jars made: 20, not 21\. 21 20 counted again on the shelf/);
    expect(corrected).toContain('RECALLED');
    expect(corrected).toContain('June Pascoe (JP)');
  });

  test.each([5, 500])('never overflows at %d lots', async (lots) => {
    const season = lots === 5 ? tamarackSeason() : longSeason(lots);
    const read = await readPdf(await pdfOf(season));
    expect(read.pages.flatMap((page) => overruns(page))).toEqual([]);
    for (const lot of season.lots) expect(read.text).toContain(lot.lot);
  });

  test('fits words that are far too long for their columns', async () => {
    const season = tamarackSeason();
    const [first] = season.lots;
    if (!first) throw new Error('no lot');
    const long = 'Harrow-Notch-'.repeat(30);
    const wide = {
      ...first,
      container: long,
      sentTo: [
        { place: long, kind: 'sale', jars: 3 },
        { place: 'Łucja Őrsi · 楓', kind: 'sale', jars: 2 },
      ],
      note: 'A note of many words. '.repeat(900),
    };
    const read = await readPdf(await pdfOf({ ...season, lots: [wide] }, { lotPages: 'all' }));
    expect(read.pages.flatMap((page) => overruns(page))).toEqual([]);
    expect(read.text).toContain('Łucja Őrsi');
    expect(read.text.replace(/\s+/g, ' ').match(/A note of many words/g)?.length).toBeGreaterThan(850);
  });

  test('keeps the rule that held a lot, in bold, inside its own column', async () => {
    const season = tamarackSeason();
    const lots = season.lots.map((lot) => ({
      ...lot,
      findings: lot.findings.map((finding) => ({ ...finding, stop: true, found: `${finding.found}, `.repeat(6) })),
    }));
    expect(lots.flatMap((lot) => lot.findings).length).toBeGreaterThan(0);
    const read = await readPdf(await pdfOf({ ...season, lots }));
    expect(read.pages.flatMap((page) => overruns(page))).toEqual([]);
  });

  test('is tagged and bookmarked, with text in place of pictures for screen readers', async () => {
    const season = tamarackSeason();
    const bytes = await pdfOf(season, { pictures: drawCharts(season, 'paper') });
    const read = await readTaggedPdf(bytes);
    expect(read.tagged).toBe(true);
    for (const role of ['H1', 'P', 'Table', 'TR', 'TH', 'TD', 'Figure']) expect(read.roles).toContain(role);
    expect(read.bookmarks).toEqual(
      expect.arrayContaining(['Page one', 'Deviations and what was done', 'Supporting records']),
    );
    expect(read.roles.filter((role) => role === 'Figure')).toHaveLength(6);
    expect(read.figuresWithoutText).toBe(0);
    expect(read.roles.filter((role) => role === 'H1')).toEqual(['H1']);
    for (const role of ['H2', 'H3']) expect(read.roles).toContain(role);
    expect(read.language).toBe('en-US');
  });

  test('is read aloud as separate words, also where a line or a cell ends', async () => {
    const { readingOrder: textOrder, pages } = await readTaggedPdf(await pdfOf(tamarackSeason()));
    const lines = pages.flatMap(({ text }) => text.split('\n')).map((line) => line.trim());
    const joined = lines.slice(1).flatMap((line, at) => {
      const [last = '', first = ''] = [lines[at]?.split(' ').at(-1), line.split(' ')[0]];
      return /^[a-z]{3,}$/.test(last) && /^[a-z]{3,}$/.test(first) ? [`${last}${first}`] : [];
    });
    expect(joined.length).toBeGreaterThan(5);
    for (const glued of joined) expect(textOrder).not.toContain(glued);
  });

  test('gives the same bytes for the same season and date', async () => {
    const season = tamarackSeason();
    const [one, other] = await Promise.all([pdfOf(season), pdfOf(season)]);
    expect(one.equals(other)).toBe(true);
  });

  test('marks every page of a practice book', async () => {
    const read = await readPdf(await pdfOf({ ...tamarackSeason(), practice: true }));
    for (const page of read.pages) expect(page.text).toContain('PRACTICE: invented figures, nothing here was boiled');
  });

  test('says so where nothing was gathered, boiled, packed or written down', async () => {
    const side = Object.fromEntries(Object.keys(sideRecords()).map((kind) => [kind, []])) as unknown as Season['side'];
    const empty: Season = {
      ...tamarackSeason(),
      ...{
        lots: [],
        boils: [],
        carriedIn: [],
        syrupLeft: [],
        gatherings: [],
        receipts: [],
        draws: [],
        dispatches: [],
        counts: [],
        spent: [],
      },
      ...{ side, people: [], cautions: [], authorities: [], missing: [] },
    };
    const read = await readPdf(await pdfOf(empty, { pictures: drawCharts(empty) }));
    const text = read.text.replace(/\s+/g, ' ');
    expect(text).toContain('No pack is recorded in 2026.');
    expect(text).toContain('No boil is recorded in 2026.');
    expect(text).toContain('No hold or recall of this season’s lots is recorded.');
    expect(text).toContain('Authority: not recorded');
    expect(text).toContain('a mock recall');
  });
});

test("a lot's page shows every reading with its instrument and who took it", async () => {
  const read = await readTaggedPdf(await pdfOf(tamarackSeason(), { lotPages: ['26078A-1'] }));
  const pages = read.pages.slice(read.pages.findIndex((page) => page.text.includes('Lot 26078A-1')));
  const text = pages
    .map((page) => page.text)
    .join(' ')
    .replace(/\s+/g, ' ');
  expect(text).not.toContain('Lot 26078A-2');
  expect(text).toContain('fill 179 F 2026-03-20 13:05 T1 Wren Ellery (WE)');
  expect(text).toContain('RELEASED');
  expect(text).toContain('WE 2026-03-20');
  expect(text).toContain('New readings: 184 F');
  expect(text).toContain('2 seals failed (two lids refitted after reheating)');
  expect(read.figuresWithoutText).toBe(0);
  expect(read.pages.flatMap((page) => overruns(page))).toEqual([]);
});

test('columns never add up to more than the page, whatever they hold', () => {
  const wish = fc
    .tuple(fc.double({ min: 1, max: 900, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true }))
    .map(([naturalPt, part]) => ({ naturalPt, minPt: naturalPt * part }));
  fc.assert(
    fc.property(
      fc.array(wish, { minLength: 1, maxLength: 20 }),
      fc.double({ min: 100, max: 800, noNaN: true }),
      (wishes, width) => {
        const widths = columnWidths(wishes, width);
        expect(widths.reduce((sum, one) => sum + one, 0)).toBeLessThanOrEqual(width + 1e-6);
        expect(Math.min(...widths)).toBeGreaterThanOrEqual(0);
      },
    ),
  );
});

test('a stranger with one jar and page one finds what an inspector would ask', async () => {
  const season = tamarackSeason();
  const read = await readPdf(await pdfOf(season));
  const page = (read.pages[0]?.text ?? '').replace(/\s+/g, ' ');
  const row = page.slice(page.indexOf('26076A-1 '), page.indexOf('26077A-1 26077A'));
  for (const [request, answer] of [
    ['which boil, and when', '26076A 17 Mar'],
    ['packed when', '18 Mar'],
    ['how hot, by which thermometer', '183 F, T1'],
    ['how dense', '67.1 (60.6 Bx at 185 F)'],
    ['what allergens', 'milk'],
    ['how many, and where', '72 30 40 0 2 not counted'],
    ['who packed it', 'WE'],
    ['whether it was held', 'open'],
  ])
    expect({ asked: request, found: row.includes(answer ?? '') }).toEqual({ asked: request, found: true });
  for (const [request, answer] of [
    [
      'when the thermometer was checked',
      'T1 thermometer: 2026-03-15 ice point, should read 32 F, read 32.4 F: in tolerance',
    ],
    ['to whom the rest went', 'Millrace Green 72: 26076A-1 40'],
    ['who signed', 'Signed by: not recorded'],
    ['whom to call', 'telephone 802 555 0100'],
    ['what is held', 'HELD now, 1 lot: 26081X-1'],
  ])
    expect({ asked: request, found: page.includes(answer ?? '') }).toEqual({ asked: request, found: true });
});

test('a season is compared with earlier ones, and a pan’s curve has a line at its draw-off', async () => {
  const season = tamarackSeason();
  const [boil] = season.boils;
  if (!boil) throw new Error('no boil');
  const panLog = ['212 F', '215 F', '217.5 F', '218.4 F'].map((typed, n) =>
    temperature(n === 3 ? 'draw' : 'pan', typed, `2026-03-17T2${n}:00:00-04:00`, 'T1', 'WE'),
  );
  const pictures = drawCharts({
    ...season,
    boils: [{ ...boil, panLog }, ...season.boils.slice(1)],
    earlier: [{ year: 2025, syrupMillilitres: 37854.1, jars: 90 }],
  });
  const text = (svg: string): string[] => [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map((each) => each[1] ?? '');
  expect(text(pictures.panTemperature.svg)).toEqual(
    expect.arrayContaining(['drawn off 218.4 F', '215 F', 'in the pan, °F']),
  );
  expect(text(pictures.besideEarlier.svg)).toEqual(
    expect.arrayContaining(['2025', '10.0', '2026', '21.5', 'syrup, gal']),
  );
});
