import { describe, expect, test } from '@jest/globals';
import { type Imported, importRows, type ImportOptions } from '#libs/actions/import/import-rows.js';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { faultSentence } from '#libs/actions/record/problem.js';
import { readHead } from '#libs/store/log/log.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { engines } from '../support/engines.js';
import { writeContext } from '../support/sugarhouse.js';
import { seasonCopies } from '../support/season-copies.js';

const gatherings = `id,gathered_at,source,volume,sugar,by
G101,2026-03-17T16:30,"North slope, buckets",120 gal,2.1 Bx,WE
G102,2026-03-18T16:10,Hollow road,95.5 gal,,OE
`;

describe.each(engines())('Importing a file on $name', (engine) => {
  const season = seasonCopies(engine);
  const take = (plural: string, file: string | Uint8Array, recordOptions: ImportOptions = {}): Promise<Imported> =>
    importRows(
      season.book,
      writeContext(),
      importKinds.find((kind) => kind.plural === plural)!,
      typeof file === 'string' ? Buffer.from(file) : file,
      recordOptions,
    );
  const entries = async (): Promise<number> => (await readHead(season.book.read)).entries;
  const faults = (answer: Imported): string[] => [
    ...answer.faults.map(faultSentence),
    ...answer.refusals.map((each) => `Line ${each.line}: ${each.sentence}`),
  ];
  /** The messages for a bad file; also checks that it changed nothing. */
  const refused = async (
    plural: string,
    file: string | Uint8Array,
    recordOptions?: ImportOptions,
  ): Promise<string[]> => {
    const before = await readHead(season.book.read);
    const answer = await take(plural, file, recordOptions);
    expect(await readHead(season.book.read)).toEqual(before);
    expect(answer).toMatchObject({ written: 0, corrected: 0, same: 0, ids: [] });
    const result = faults(answer);
    expect(result.length).toBeGreaterThan(0);
    return result;
  };

  test('imports every row, and the same file again changes nothing and says so', async () => {
    expect(await take('gatherings', gatherings)).toMatchObject({
      rows: 2,
      written: 2,
      same: 0,
      ids: ['G101', 'G102'],
      faults: [],
    });
    expect((await findRecord(season.reader(), 'gathering', 'G102'))?.typed).not.toHaveProperty('sugar');
    expect(await take('gatherings', gatherings)).toMatchObject({ rows: 2, written: 0, same: 2 });
    // Another column order, other line ends: the same cells.
    const turned =
      'by,id,source,gathered_at,sugar,volume\r\nWE,G101,"North slope, buckets",2026-03-17T16:30,2.1 Bx,120 gal';
    expect(await take('gatherings', turned)).toMatchObject({ written: 0, same: 1 });
    expect(await entries()).toBe(6);
  });

  test('a dry run says what would be, and writes nothing', async () => {
    expect(await take('gatherings', gatherings, { dryRun: true })).toMatchObject({
      dryRun: true,
      written: 2,
      faults: [],
    });
    expect(await entries()).toBe(4);
    expect(await take('gatherings', gatherings)).toMatchObject({ written: 2 });
  });

  test('different content under a known id is a fault that shows both; with a reason it is a correction', async () => {
    await take('gatherings', gatherings);
    const other = gatherings.replace('95.5 gal', '96 gal');
    const [result] = await refused('gatherings', other);
    expect(result).toMatch(/^Line 3, volume: .*"95.5 gal".*"96 gal"/);
    expect(await take('gatherings', other, { why: 'the stick was read again' })).toMatchObject({
      corrected: 1,
      same: 1,
      written: 0,
    });
    expect((await findLot(season.reader(), 'G102'))?.millilitres).toBeCloseTo(96 * 3785.411784, 6);
    expect(await take('gatherings', other, { why: 'the stick was read again' })).toMatchObject({
      corrected: 0,
      same: 2,
    });
    // Back again, and forth: each is a correction of its own.
    expect(await take('gatherings', gatherings, { why: 'it was right at first' })).toMatchObject({ corrected: 1 });
    expect(await take('gatherings', other, { why: 'no it was not' })).toMatchObject({ corrected: 1 });
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test('one bad row stops the whole file, and every fault of every row is reported with line and column', async () => {
    const result = await refused(
      'gatherings',
      `id,gathered_at,source,volume,sugar,temperature
G201,2026-03-17T16:30,Hollow road,120 gal,2.1 Bx,38 F
G202,2026-03-08T02:30,Hollow road,120,2.1,38
,2026-03-17T16:30,,1
G203,2026-03-17T16:30,Hollow road,"1,200 gal",,38 F
`,
    );
    expect(result).toEqual([
      expect.stringMatching(/^Line 3, gathered_at: expected a date and time .* skipped it, got "2026-03-08T02:30"/),
      expect.stringMatching(/^Line 3, volume: expected a volume like .* got "120"/),
      expect.stringMatching(/^Line 3, sugar: expected a density like .* got "2.1"/),
      expect.stringMatching(/^Line 3, temperature: expected a temperature like .* got "38"/),
      expect.stringMatching(/^Line 4, row: expected 6 cells, as in the header, got 4/),
      expect.stringMatching(/^Line 5, volume: .* got "1,200 gal"/),
    ]);
  });

  test('lines are those of the file, whatever a cell or an empty line holds', async () => {
    const result = await refused(
      'gatherings',
      'id,gathered_at,source,volume\n\n\nG301,2026-03-17T16:30,"two\nlines",1 gal\n\n ,,,\nG302,2026-03-17T16:30,x,much\n',
    );
    expect(result).toEqual([expect.stringMatching(/^Line 8, volume: /)]);
  });

  test.each([
    ['a byte-order mark', '\uFEFF', (text: string) => Buffer.from(text), /byte-order mark/],
    ['Windows-1252', '', (text: string) => Buffer.from(text, 'latin1'), /Windows-1252/],
    ['UTF-8', '', (text: string) => Buffer.from(text), /^$/],
  ])('reads %s and says so', async (_, mark, bytes, note) => {
    const file = bytes(`${mark}id,gathered_at,source,volume\nG401,2026-03-17T16:30,Érablière du côté,40 L\n`);
    const answer = await take('gatherings', file);
    expect(answer).toMatchObject({ written: 1, faults: [] });
    expect(answer.notes.join('')).toMatch(note);
    expect((await findRecord(season.reader(), 'gathering', 'G401'))?.typed['source']).toBe('Érablière du côté');
  });

  test('a file separated by semicolons has lists separated by bars and decimal commas', async () => {
    const file =
      'lot;from_lots;packed_at;container;jars;by;fill_temps;density_reading;density_by\n;26077A:1,5 qt|26077A-1:0,25 gal;2026-03-20T10:00;glass jar 8 fl oz;8;OE;85,5 C|186 F;67,2 Bx;refractometer-atc\n';
    const answer = await take('packs', file);
    expect(faults(answer)).toEqual([]);
    expect(answer.notes.join(' ')).toContain('";"');
    expect((await findLot(season.reader(), answer.ids[0] ?? ''))?.verdict).toMatchObject({
      brix: 67.2,
      lowestFill: { typed: '85,5 C' },
    });
  });

  test.each([
    ['nothing', '', /^Line 1, file: expected a header row/],
    ['a picture', Buffer.from([0x89, 0x50, 0x4e, 0x47, 0, 0, 0, 1]), /^Line 1, file: expected a text file/],
    ['UTF-16', Buffer.from('\uFEFFid,volume', 'utf16le'), /^Line 1, file: .*UTF-16/],
    [
      'a quote left open',
      'id,gathered_at,source,volume\nG1,2026-03-17,"open,1 gal\n',
      /^Line \d, file: .*a quote that is never closed/,
    ],
    [
      'an unknown column',
      'id,gathered_at,source,volume,colour\n',
      /^Line 1, header: expected one of the columns id, .*got "colour"/,
    ],
    [
      'a column twice',
      'id,gathered_at,source,volume,volume\n',
      /^Line 1, header: expected each column once, got "volume" twice/,
    ],
    ['a needed column missing', 'id,source,volume\n', /^Line 1, header: expected a column gathered_at/],
  ])('a file with %s is refused with that reason', async (_, file, sentence) => {
    expect((await refused('gatherings', file)).join('\n')).toMatch(sentence);
  });

  test('a header alone is a file with no rows', async () => {
    expect(await take('gatherings', 'id,gathered_at,source,volume\n')).toMatchObject({
      rows: 0,
      written: 0,
      faults: [],
    });
  });

  test('an unknown lot in a file is a fault of its row; rows that depend on a bad row are not reported as well', async () => {
    const result = await refused(
      'boils',
      `lot,began_at,gatherings,carried_from,syrup_volume,by
26090A,2026-03-31T07:00,G999:5 gal,,1 gal,WE
26091A,2026-04-01T07:00,G001,26090A:1 gal,1 gal,WE
26092A,2026-04-02T07:00,26077A,,1 gal,WE
`,
    );
    expect(result).toEqual([
      expect.stringMatching(/^Line 2, gatherings: .* got "G999"/),
      expect.stringMatching(/^Line 4, gatherings: .* 26077A, which is a boil/),
    ]);
  });

  test('rows may be in any order: each is written after its sources', async () => {
    const answer = await take(
      'packs',
      `lot,from_lots,packed_at,container,jars,by
26092X-1,26077A-7:1 pt;26077A:1 qt,2026-04-02T10:00,glass jar 8 fl oz,4,WE
26077A-7,26077A:1 qt,2026-04-02T10:00,glass jar 8 fl oz,4,WE
`,
    );
    expect(faults(answer)).toEqual([]);
    expect(answer.ids).toEqual(['26077A-7', '26092X-1']);
  });

  test('a row without a code isn’t given one that a later row uses', async () => {
    const answer = await take(
      'boils',
      `lot,began_at,syrup_volume,by
,2026-04-03T06:00,1 gal,WE
26093A,2026-04-03T09:00,2 gal,WE
,2026-04-03T12:00,3 gal,WE
`,
    );
    expect(faults(answer)).toEqual([]);
    expect(answer.ids).toEqual(['26093B', '26093A', '26093C']);
    const packed = await take(
      'packs',
      `lot,from_lots,packed_at,container,jars,by
,26093A:1 qt,2026-04-04T08:00,glass jar 8 fl oz,4,WE
26093a-1,26093A:1 qt,2026-04-04T09:00,glass jar 8 fl oz,4,WE
`,
    );
    expect(packed.ids).toEqual(['26093A-2', '26093A-1']);
  });

  test('rows that name each other as sources are faults, and the search ends', async () => {
    const result = await refused(
      'packs',
      `lot,from_lots,packed_at,container,jars,by
26095X-1,26095X-2:1 pt,2026-04-05T10:00,glass jar 8 fl oz,4,WE
26095X-2,26095X-1:1 pt,2026-04-05T10:00,glass jar 8 fl oz,4,WE
`,
    );
    expect(result.join('\n')).toMatch(/from_lots: expected a boil or pack or receipt of this book/);
  });

  test('a row without an id is the same record if all its cells are; two such rows in one file need ids', async () => {
    const rows = (...lines: string[]): string => `lot,jars,sent_at,to,kind\n${lines.join('\n')}\n`;
    const sold = '26077A-1,3,2026-04-04T09:00,Millrace Green,sale';
    expect(await take('dispatches', rows(sold))).toMatchObject({ written: 1 });
    expect(await take('dispatches', rows(sold))).toMatchObject({ written: 0, same: 1 });
    expect(await take('dispatches', rows(sold, sold.replace(',3,', ',2,')))).toMatchObject({ written: 1, same: 1 });
    const [result] = await refused(
      'dispatches',
      rows('26077A-1,1,2026-04-05T09:00,x,gift', '26077A-1,1,2026-04-05T09:00,x,gift'),
    );
    expect(result).toMatch(/^Line 3, id: expected an id, since line 2 has the same cells/);
    const named = `id,lot,jars,sent_at,to\nS1,26077A-1,1,2026-04-05T09:00,x\nS2,26077A-1,1,2026-04-05T09:00,x\n`;
    expect(await take('dispatches', named)).toMatchObject({ written: 2 });
  });

  test('a plan refused by a rule is reported at its line, and nothing is written', async () => {
    const result = await refused(
      'dispatches',
      'id,lot,jars,sent_at,to\nS1,26077A-1,1,2026-04-05T09:00,x\nS2,26077A-1,99,2026-08-05T09:00,x\n',
    );
    expect(result).toEqual([expect.stringMatching(/^Line 3: 26077A-1 has 47 jars on hand.*99 is 52 too many/)]);
  });

  test('the log keeps who wrote an imported row and which file it came from', async () => {
    await take('gatherings', gatherings);
    const row = await season.book.read.row<{ json: string }>`SELECT json FROM entry WHERE seq = 6`;
    expect(JSON.parse(row?.json ?? '{}')).toMatchObject({ by: 'OE', author: 'import', deed: 'record' });
  });
});
