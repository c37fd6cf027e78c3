import { createRequire } from 'node:module';
import { Writable } from 'node:stream';
import { describe, expect, test } from '@jest/globals';
import ExcelJS from 'exceljs';
import { epcisFaults } from '#libs/reports/epcis/rules.js';
import { seasonEpcis, seasonJsonLd } from '#libs/reports/epcis/season-epcis.js';
import { seasonSheets } from '#libs/reports/season/sheets.js';
import { writeSeasonXlsx } from '#libs/reports/season/xlsx.js';
import { bytesOf } from '../support/read-pdf.js';
import { longSeason, tamarackSeason } from './tamarack-season.js';

const createdAt = new Date('2026-06-01T13:00:00Z');

async function opened(bytes: Buffer): Promise<ExcelJS.Workbook> {
  const book = new ExcelJS.Workbook();
  await book.xlsx.load(bytes as unknown as ExcelJS.Buffer);
  return book;
}

describe('the season as a sortable sheet', () => {
  test('holds every cell of the book, numbers as numbers and times as dates', async () => {
    const season = tamarackSeason();
    const book = await opened(await bytesOf((out) => writeSeasonXlsx(season, out, createdAt)));
    const sheets = seasonSheets(season);
    expect(book.worksheets.map((page) => page.name)).toEqual(sheets.map((sheet) => sheet.name));
    let cells = 0;
    for (const sheet of sheets) {
      const page = book.getWorksheet(sheet.name);
      expect(page?.rowCount).toBe(sheet.lines.length + 1);
      sheet.columns.forEach((column, at) => {
        expect(page?.getRow(1).getCell(at + 1).value).toBe(column.heading);
        sheet.lines.forEach((line, row) => {
          const expected = line[at] ?? null;
          const found = page?.getRow(row + 2).getCell(at + 1).value;
          cells += 1;
          if (expected === null || expected === '') expect(found).toBeNull();
          else if (column.holds === 'time') {
            expect(found).toBeInstanceOf(Date);
            expect((found as Date).toISOString().slice(0, 16)).toBe(String(expected).slice(0, 16));
          } else expect(found).toBe(expected);
        });
      });
    }
    expect(cells).toBeGreaterThan(600);
  });

  test('can be sorted and filtered immediately, and states its units', async () => {
    const book = await opened(await bytesOf((out) => writeSeasonXlsx(tamarackSeason(), out, createdAt)));
    for (const page of book.worksheets) {
      expect(page.views[0]).toMatchObject({ state: 'frozen', ySplit: 1 });
      expect(page.autoFilter).toBeTruthy();
    }
    const headings = (book.getWorksheet('Lots')?.getRow(1).values as string[]).join(' | ');
    expect(headings).toContain('Lowest fill (deg F)');
    expect(headings).toContain('Syrup (L)');
    expect(headings).toContain('Made (jars)');
  });

  test('prints landscape, as wide as the page, with headings on each, and states the zone of its times', async () => {
    const book = await opened(await bytesOf((out) => writeSeasonXlsx(tamarackSeason(), out, createdAt)));
    for (const page of book.worksheets)
      expect(page.pageSetup).toMatchObject({
        orientation: 'landscape',
        fitToPage: true,
        fitToWidth: 1,
        fitToHeight: 0,
        printTitlesRow: '1:1',
      });
    const key = book.worksheets.at(-1)?.getSheetValues().flat().map(String).join('\n');
    expect(key).toContain('Times without an offset are those of America/New_York.');
  });

  test('repeats input and output on each line of the flows', async () => {
    const book = await opened(await bytesOf((out) => writeSeasonXlsx(tamarackSeason(), out, createdAt)));
    const page = book.getWorksheet('Inputs and outputs');
    const pairs: string[] = [];
    page?.eachRow((row, number) => {
      if (number > 1) pairs.push(`${row.getCell(1).text} > ${row.getCell(4).text}`);
    });
    expect(pairs).toEqual(
      expect.arrayContaining(['G043 > 26078A', 'R007 > 26078A', '26077A > 26081X-1', '26078A > 26081X-1']),
    );
  });

  test('keeps text that looks like a formula as text', async () => {
    const book = await opened(await bytesOf((out) => writeSeasonXlsx(tamarackSeason(), out, createdAt)));
    const cell = book.getWorksheet('Dispatches')?.getRow(5).getCell(6);
    expect(cell?.value).toBe('=SUM(A1) stall');
    expect(cell?.type).toBe(ExcelJS.ValueType.String);
  });

  test('streams a long season, and reports an output stream that closes', async () => {
    const book = await opened(await bytesOf((out) => writeSeasonXlsx(longSeason(500), out, createdAt)));
    expect(book.getWorksheet('Lots')?.rowCount).toBe(501);
    const gone = new Writable({ write: (_chunk, _encoding, done) => done(new Error('the reader went away')) });
    await expect(writeSeasonXlsx(longSeason(500), gone, createdAt)).rejects.toThrow('the reader went away');
  });
});

interface Validation {
  readonly success: boolean;
  readonly errors: readonly string[];
}
/** From the general EPCIS library: an event with its getters. */
interface WalkedEvent {
  getBizStep(): string;
  getErrorDeclaration?(): unknown;
  getEPCList?(): string[] | undefined;
  getQuantityList?(): Quantity[] | undefined;
  getInputQuantityList?(): Quantity[] | undefined;
  getOutputQuantityList?(): Quantity[] | undefined;
  getOutputEPCList?(): string[] | undefined;
}
interface Quantity {
  getEpcClass(): string;
}
const { validateEpcisDocument, setup, EPCISDocument } = createRequire(import.meta.url)('epcis2.js') as {
  validateEpcisDocument: (document: unknown, throwError: boolean) => Validation;
  setup: (settings: object) => void;
  EPCISDocument: new (document: unknown) => { getEPCISBody?(): unknown; getEventList(): WalkedEvent[] };
};
const walkable = (document: unknown): WalkedEvent[] =>
  new EPCISDocument(document).getEventList().filter((event) => !event.getErrorDeclaration?.());
const classesOf = (list: Quantity[] | undefined): string[] => (list ?? []).map((each) => each.getEpcClass());
const namesIn = (event: WalkedEvent): string[] => [
  ...(event.getEPCList?.() ?? []),
  ...classesOf(event.getQuantityList?.()),
];

/** Everything that went into things of these names, by the transformations that produced them. */
function upstreamOf(events: readonly WalkedEvent[], from: readonly string[]): string[] {
  const found = new Set<string>();
  const waiting = [...from];
  while (waiting.length > 0) {
    const name = waiting.shift() ?? '';
    for (const event of events)
      if ([...(event.getOutputEPCList?.() ?? []), ...classesOf(event.getOutputQuantityList?.())].includes(name))
        for (const input of classesOf(event.getInputQuantityList?.()))
          if (!found.has(input)) {
            found.add(input);
            waiting.push(input);
          }
  }
  return [...found];
}
type Fields = Record<string, unknown>;
const eventsOf = (text: string): Fields[] =>
  (JSON.parse(text) as { epcisBody: { eventList: Fields[] } }).epcisBody.eventList;

describe('the season as EPCIS 2.0', () => {
  const text = seasonJsonLd(tamarackSeason(), { createdAt, base: 'https://sugar.example/' });
  const events = eventsOf(text);
  const eventNamed = (id: string): Fields => {
    const found = events.find((event) => event['eventID'] === `https://sugar.example/event/${id}`);
    if (!found) throw new Error(`no event ${id}`);
    return found;
  };

  test('is valid against the published schema, with its extensions declared', () => {
    setup({ checkExtensions: true });
    expect(validateEpcisDocument(JSON.parse(text), false)).toEqual({ success: true, errors: [] });
    const broken = JSON.parse(text) as { epcisBody: { eventList: Fields[] } };
    delete broken.epcisBody.eventList[0]?.['eventTimeZoneOffset'];
    expect(validateEpcisDocument(broken, false).success).toBe(false);
  });

  test('keeps the two rules that the schema doesn’t check', () => {
    expect(epcisFaults(JSON.parse(text) as { epcisBody: { eventList: object[] } })).toEqual([]);
    const bare = { type: 'TransformationEvent', transformationID: 'urn:x:1', inputQuantityList: [{}] };
    const parentless = { type: 'AggregationEvent', action: 'ADD', childEPCs: ['urn:x:2'] };
    expect(epcisFaults({ epcisBody: { eventList: [bare, parentless] } })).toEqual([
      'event 1 (without an id): a transformation without outputs',
      'event 2 (without an id): an aggregation adds to nothing, parentID is missing',
    ]);
  });

  test('has each event once, in the order they happened, and no plan', () => {
    const ids = events.map((event) => event['eventID']);
    expect(new Set(ids).size).toBe(ids.length);
    const times = events.map((event) => Date.parse(String(event['eventTime'])));
    expect(times).toEqual([...times].sort((one, other) => one - other));
    expect(ids).not.toContain('https://sugar.example/event/dispatch/S11');
    // 3 gatherings, 1 receipt, 3 boils, 1 draw, 5 packs, 1 correction, 3 changes of status, 10 dispatches that
    // happened, 1 count. 26081X-1 was held once, 26078A-1 was held and released.
    expect(events).toHaveLength(3 + 1 + 3 + 1 + 5 + 1 + 3 + 10 + 1);
  });

  test('binds a pack to its boils with amounts, and reports temperatures in the unit they were read in', () => {
    const pack = eventNamed('pack/26077A-1');
    expect(pack['inputQuantityList']).toEqual([
      { epcClass: 'https://sugar.example/lot/26077A', quantity: 15.142, uom: 'LTR' },
      { epcClass: 'https://sugar.example/lot/26076A', quantity: 15.142, uom: 'LTR' },
    ]);
    const [first] = pack['sensorElementList'] as { sensorReport: Fields[] }[];
    expect(first?.sensorReport[0]).toMatchObject({
      type: 'Temperature',
      value: 85,
      uom: 'CEL',
      time: '2026-03-19T15:05:00-04:00',
      deviceID: 'https://sugar.example/instrument/T1',
      'boilbook:typed': '85 C',
    });
  });

  test('writes a correction as an error declaration that points to the event that replaces it', () => {
    const before = eventNamed('pack/26078A-2%20before%20150');
    expect(before['boilbook:jars']).toBe(21);
    expect(before['errorDeclaration']).toEqual({
      declarationTime: '2026-03-25T08:00:00-04:00',
      reason: 'incorrect_data',
      correctiveEventIDs: ['https://sugar.example/event/pack/26078A-2'],
      'boilbook:why': 'counted again on the shelf',
    });
    expect(eventNamed('pack/26078A-2')['boilbook:jars']).toBe(20);
  });

  test('leads from every sold jar to its sap or its bought lot, by classes and jars alone', () => {
    const season = tamarackSeason();
    const [first, ...others] = season.dispatches;
    const byCode = { ...first!, jars: 2, jarCodes: ['K7QM-3XWT', 'ABCD-2345'] };
    const lots = season.lots.map((lot) => (lot.lot === '26077A-1' ? { ...lot, gtin: '09520123456788' } : lot));
    const document = seasonEpcis(
      { ...season, lots, dispatches: [byCode, ...others] },
      { createdAt, base: 'https://sugar.example' },
    );
    setup({ checkExtensions: true });
    expect(validateEpcisDocument(JSON.parse(JSON.stringify(document)), false)).toEqual({ success: true, errors: [] });
    const walked = walkable(JSON.parse(JSON.stringify(document)) as typeof document);
    const sold = walked.filter((event) => event.getBizStep() === 'retail_selling');
    expect(sold.length).toBeGreaterThan(4);
    for (const sale of sold)
      expect(upstreamOf(walked, namesIn(sale))).toEqual(
        expect.arrayContaining([expect.stringMatching(/^https:\/\/sugar\.example\/lot\/(G|R)\d{3}$/)]),
      );
    // The label's own address names a jar, and a lot whose labels carry a GTIN is named by it.
    expect(namesIn(sold[0]!)).toContain('https://sugar.example/J/K7QM3XWT');
    expect(sold.flatMap(namesIn)).toContain('https://sugar.example/01/09520123456788/10/26077A-1');
  });

  test('says where each thing happened, and a density as a number with its unit', () => {
    for (const event of events) expect(event['readPoint']).toEqual({ id: expect.stringMatching(/^https:/) });
    expect(eventNamed('pack/26077A-1')['bizLocation']).toEqual({ id: 'https://sugar.example/place/sugarhouse' });
    const reports = events.flatMap((event) => (event['sensorElementList'] ?? []) as { sensorReport: Fields[] }[]);
    const densities = reports.flatMap(({ sensorReport }) => sensorReport).filter((each) => each['type'] === 'Density');
    expect(densities.length).toBeGreaterThan(3);
    for (const each of densities) expect(each).toMatchObject({ value: expect.any(Number), uom: 'KMQ' });
    // 60.6 °Bx on a hydrometer made for 60 °F: 1.29 g/mL.
    const syrup = densities.find((each) => each['boilbook:typed'] === '60.6 Bx');
    expect(syrup?.['value']).toBeGreaterThan(1285);
    expect(syrup?.['value']).toBeLessThan(1298);
  });

  test('uses names that are no web addresses where the book has no public address', () => {
    const [first] = seasonEpcis(tamarackSeason(), { createdAt }).epcisBody.eventList;
    expect(first?.eventID).toBe('https://boilbook.invalid/event/gathering/G041');
  });
});
