import { expect, test } from '@jest/globals';
import type { Pictures } from '#libs/reports/season/pictures.js';
import { writeSeasonPdf } from '#libs/reports/season/pdf.js';
import type { Deviation } from '#libs/reports/season/deviation.js';
import type { Season } from '#libs/reports/season/season.js';
import { bytesOf, overruns, readPdf } from '../support/read-pdf.js';
import { longSeason } from './tamarack-season.js';

const createdAt = new Date('2026-06-01T13:00:00Z');
const picture = {
  title: 'A picture',
  words: 'a line',
  svg: '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>',
};
const names = [
  'fillTemperatures',
  'density',
  'syrupByDay',
  'sapToSyrup',
  'panTemperature',
  'besideEarlier',
  'jarsByPlace',
];
const pictures = Object.fromEntries(names.map((name) => [name, picture])) as unknown as Pictures;
const read = async (season: Season, size: 'LETTER' | 'A4') =>
  readPdf(await bytesOf((out) => writeSeasonPdf(season, out, { createdAt, size, pictures })));

const coldJars = (lot: string, n: number): Deviation => ({
  lot,
  kind: 'rule',
  rule: 'fill-temperature',
  found: '178 F, the third of 5 readings, at 14:10, jars 9-16',
  limit: '180 °F or 82 °C or more in the jar when it is capped',
  source: 'maple food-safety handbook',
  jars: '9-16',
  foundAt: '2026-03-20T13:05:00-04:00',
  foundBy: 'WE',
  heldAt: '2026-03-20T13:05:00-04:00',
  done: [{ at: '2026-03-20T15:05:00-04:00', by: 'OE', words: 'poured back, heated to 195 F, filled and read again' }],
  readAgain: ['184 F', '186 F'],
  cleared: null,
  released: n % 3 ? { at: '2026-03-21T13:05:00-04:00', by: 'WE', why: 'read again, hot enough' } : null,
  open: n % 3 === 0,
  wayOut: 'Pour those jars back, heat the syrup, fill and read them again; or destroy them.',
});
const withDeviations = (season: Season, each: number): Season => ({
  ...season,
  lots: season.lots.map((lot, n) => ({
    ...lot,
    lowestFillBy: null,
    deviations: Array.from({ length: each }, () => coldJars(lot.lot, n)),
  })),
});

/** That many corrections that changed a verdict, late entries and complaints. */
const withSideCounts = (season: Season, many: number): Season => ({
  ...season,
  side: {
    ...season.side,
    complaints: Array.from({ length: many }, () => season.side.complaints[0]!),
  },
  lots: season.lots.map((lot, n) => ({
    ...lot,
    verdictChanges: Array.from({ length: n < many ? 1 : 0 }, () => ({
      ...{
        lot: lot.lot,
        at: '2026-04-02T09:00:00-04:00',
        by: 'WE',
        why: 'read the 8 for a 7',
        record: `pack ${lot.lot}`,
      },
      ...{
        changes: [{ field: 'fillTemps', was: '178 F', now: '188 F' }],
        before: { state: 'held', holds: [] },
        after: { state: 'open', holds: [] },
      },
    })),
    lateEntries: [
      {
        ...{ field: `pack ${lot.lot}`, happenedAt: '2026-03-20T13:05:00-04:00', typedAt: '2026-03-24T13:05:00-04:00' },
        ...{ hoursLate: 96, by: 'WE' },
      },
    ],
  })),
});

test.each(['LETTER', 'A4'] as const)(
  'sixteen lots, a blend among them, fit on page one of %s, no text under 8 pt, also where no thermometer is recorded',
  async (size) => {
    const season = longSeason(16);
    const [first] = season.lots;
    if (!first) throw new Error('no lot');
    const blend = { ...first, boiled: [...first.boiled, ...(season.lots[1]?.boiled ?? [])] };
    const blended = { ...season, lots: [...season.lots.slice(1), blend] };
    for (const each of [blended, withDeviations(blended, 1)]) {
      const { pages } = await read(each, size);
      const rows = pages[0]?.placed.filter(
        ({ leftPt, text }) => leftPt < 34 && season.lots.some((lot) => lot.lot === text.trim()),
      );
      expect(rows).toHaveLength(16);
      expect(pages[0]?.text).not.toContain('on the next page');
      expect(pages.length).toBeLessThanOrEqual(6);
      const sizes = pages[0]?.placed.map(({ sizePt }) => sizePt) ?? [];
      expect(Math.min(...sizes)).toBeGreaterThanOrEqual(8);
    }
  },
);

test.each([
  ['LETTER', 0],
  ['LETTER', 1],
  ['LETTER', 8],
  ['A4', 1],
  ['A4', 8],
] as const)('thirty lots on %s with %i deviations each take six pages at most', async (size, each) => {
  const { pages, text } = await read(withDeviations(longSeason(30), each), size);
  expect(pages.length).toBeLessThanOrEqual(6);
  expect(pages.flatMap((page) => overruns(page))).toEqual([]);
  expect(pages.at(-1)?.text).toContain('Supporting records');
  // Rows without room are counted, and no open deviation is left out in favour of one that has ended.
  const line = text.replace(/\s+/g, ' ');
  const printed = line.match(/STILL OPEN\. Pour|released 2026-03-21/g)?.length ?? 0;
  const left = /and (\d+) more, (\d+) of them still open, in the sheet “Deviations”/.exec(line);
  if (each < 8) expect(left).toBeNull();
  else expect(Number(left?.[1])).toBeGreaterThan(100);
  if (left) expect([Number(left[1]) + printed >= 30 * each, Number(left[2]) < Number(left[1])]).toEqual([true, true]);
});

test('a late entry is on the page of its heading, however much stands above it', async () => {
  for (let many = 8; many <= 20; many += 1) {
    const season = withSideCounts(withDeviations(longSeason(16), 0), 0);
    const lots = season.lots.map((lot, n) => ({
      ...lot,
      deviations: n === 0 ? Array.from({ length: many }, (_, each) => coldJars(lot.lot, each)) : [],
      lateEntries: n === 0 ? lot.lateEntries : [],
    }));
    const { pages } = await read({ ...season, lots }, 'LETTER');
    const named = pages.filter(({ text }) => /Entries written more than a day late(?!:)/.test(text));
    expect([many, named.map(({ text }) => text.includes('Hours late'))]).toEqual([many, [true]]);
  }
});

test.each([
  ['LETTER', 16],
  ['LETTER', 30],
  ['LETTER', 300],
  ['A4', 16],
  ['A4', 30],
] as const)(
  'page one of %s counts held and recalled lots, deviations, corrections, late entries and complaints, of %i lots',
  async (size, of) => {
    const season = withDeviations(longSeason(of), 2);
    const kinds = (n: number) => (n % 4 === 0 ? 'recalled' : 'held');
    const lots = season.lots.map(
      (lot, n) => ({ ...lot, product: 'maple cream with sea salt', status: kinds(n) }) as const,
    );
    const counted = withSideCounts({ ...season, lots }, of);
    const { pages } = await read(counted, size);
    const page = (pages[0]?.text ?? '').replace(/\s+/g, ' ');
    expect(page).toContain(`Corrections that changed a verdict: ${of}`);
    expect(page).toContain(`Entries written more than a day late: ${of}`);
    expect(page).toContain(`Complaints: ${of}`);
    const recalled = Math.ceil(of / 4);
    const open = 2 * Math.ceil(of / 3);
    expect(page).toContain(`Deviations: ${2 * of}, still open: ${open}`);
    for (const [word, status, count] of [
      ['HELD now', 'held', of - recalled],
      ['RECALLED', 'recalled', recalled],
    ] as const) {
      const [, summary, named, more = '0'] =
        new RegExp(`${word}, (\\d+) lots: ((?:[\\w-]+, )*[\\w-]+)(?: and (\\d+) more)?`).exec(page) ?? [];
      const names = named?.split(', ') ?? [];
      expect([word, Number(summary), names.length + Number(more)]).toEqual([word, count, count]);
      expect(names).toEqual(
        lots
          .filter((lot) => lot.status === status)
          .slice(0, names.length)
          .map(({ lot }) => lot),
      );
    }
    expect(pages.flatMap((each) => overruns(each))).toEqual([]);
    if (of <= 30) expect(pages.length).toBeLessThanOrEqual(6);
  },
);

test('a heading after the deviations has a row below it, however much room they leave on the page', async () => {
  const season = withSideCounts(longSeason(6), 0);
  const [first, ...others] = season.lots;
  if (!first) throw new Error('no lot');
  const alone: string[] = [];
  let besideDeviations = 0;
  // A longer last row moves what follows down by a line at a time, across the foot of the page.
  for (const many of [11, 12, 13, 14])
    for (let lines = 0; lines < 9; lines++) {
      const long = { ...coldJars(first.lot, 1), found: 'read again and again, and each time cold '.repeat(lines) };
      const deviations = [...Array.from({ length: many }, (_, n) => coldJars(first.lot, n)), long];
      const lots = [{ ...first, deviations }, ...others];
      const pdf = await bytesOf((out) => writeSeasonPdf({ ...season, lots }, out, { createdAt, size: 'LETTER' }));
      for (const page of (await readPdf(pdf)).pages) {
        const pageText = page.text.replace(/\s+/g, ' ').split(' Tamarack Hollow Sugarhouse · season')[0] ?? '';
        if (/Deviations and what was done.*more than a day late/.test(pageText)) besideDeviations++;
        if (/more than a day late$/.test(pageText) || /^\d+ more, in the sheet/.test(pageText))
          alone.push(`${many} deviations and ${lines} lines: ${pageText.slice(0, 20)} … ${pageText.slice(-40)}`);
      }
    }
  expect(besideDeviations).toBeGreaterThan(0);
  expect(alone).toEqual([]);
});
