import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { readCsv } from '#libs/actions/import/csv-file.js';
import { inOrder } from '#libs/actions/import/import-order.js';
import { type Imported, importRows } from '#libs/actions/import/import-rows.js';
import { keyOfRow } from '#libs/actions/import/row-names.js';
import { importKinds, kindByName } from '#libs/actions/kinds/registry.js';
import { record } from '#libs/actions/record/record.js';
import { parseEntry } from '#libs/store/log/entry-json.js';
import type { Book } from '#libs/store/book.js';
import type { Row } from '#libs/store/connection/sql.js';
import { readHead, walkLog } from '#libs/store/log/log.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { type IndexTable, indexTables } from '#libs/store/projection/index-tables.js';
import type { Entry } from '#libs/records/entry.js';
import { inventSeason } from '../generator/invent-season.js';
import { engines } from '../support/engines.js';
import { withReadsAskedAgain } from '../support/reads-asked-again.js';

const season = inventSeason(11, 50);
const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: season.now, zone: 'America/New_York' };
const kindOf = (plural: string) => importKinds.find((each) => each.plural === plural)!;

describe.each(engines())('a long file on $name', (engine) => {
  beforeAll(() => engine.start());
  afterAll(() => engine.stop());

  const taken = (book: Book, plural: string, text: string, dryRun = false, why?: string): Promise<Imported> =>
    importRows(book, { ...context, from: 'file' }, kindOf(plural), Buffer.from(text), { dryRun, why });
  const gatherings = (count: number): string =>
    [
      'id,gathered_at,source,volume,by',
      ...Array.from({ length: count }, (_, n) => `L${n},2026-03-17T16:00,upper lines,12 gal,JP`),
    ].join('\n');
  const entriesOf = async (book: Book): Promise<Entry[]> => {
    const all: Entry[] = [];
    for await (const row of walkLog(book.read)) all.push(parseEntry(row.json));
    return all;
  };
  /** Of PostgreSQL: a book in a file has no staging tables. */
  const stagedRows = async (book: Book): Promise<number> => {
    if (engine.name === 'SQLite')
      return (await book.read.rows`SELECT name FROM sqlite_master WHERE name LIKE 'staged%'`).length;
    const row = await book.read.row<{ n: number }>`SELECT (SELECT COUNT(*) FROM staged_entry) +
      (SELECT COUNT(*) FROM staged_record) + (SELECT COUNT(*) FROM staged_jar) AS n`;
    return Number(row?.n);
  };
  /** Its rows in the order in which a file is read, each in a write of its own, as a form or request sends it. */
  const oneByOne = async (book: Book, plural: string, text: string): Promise<void> => {
    const kind = kindOf(plural);
    const { rows } = readCsv(Buffer.from(text), kind.fields);
    const reservedCodes = new Set(rows.flatMap(({ cells }) => cells['lot']?.toUpperCase() ?? []));
    for (const row of inOrder(kind, rows, context.zone)) {
      const by = row.cells['by'] ?? context.by;
      const at = { ...context, from: 'file', by, author: 'import', key: keyOfRow(kind, row), reservedCodes } as const;
      const saved = await record(book, at, kind, row.cells);
      if ('problem' in saved) throw new Error(`${plural}, line ${row.line}: ${JSON.stringify(saved.problem)}`);
    }
  };
  /** The texts that are hashed into the root; a pack's seed is random, and its jars' codes come from it. */
  const hashedTexts = async (book: Book): Promise<string[]> => {
    const texts: string[] = [];
    for await (const { json } of walkLog(book.read)) texts.push(json.replace(/"seed":"[0-9a-f]{64}"/, '"seed":""'));
    return texts;
  };
  const rowsOf = async (book: Book, { name, key }: IndexTable): Promise<Row[]> => {
    const order = name === 'jar' ? ['pack', 'n'] : key;
    const rows = await book.read.statement(`SELECT * FROM ${name} ORDER BY ${order.join(', ')}`);
    return name === 'jar' ? rows.map((row) => ({ ...row, code: 'random' })) : rows;
  };

  test('of every kind gives the same log and tables as its rows one by one', async () => {
    const book = await engine.freshBook();
    for (const { kind, text } of season.files) {
      const head = await readHead(book.read);
      expect((await taken(book, kind, text, true)).faultCount).toBe(0);
      expect(await readHead(book.read)).toEqual(head);
      const done = await withReadsAskedAgain(() => taken(book, kind, text));
      expect([done.faultCount, done.refusals, done.written]).toEqual([0, [], done.rows]);
      expect((await taken(book, kind, text)).same).toBe(done.rows);
    }
    const rows = season.files.map((file) => file.rows);
    expect(rows.filter((each) => each > 100).length).toBeGreaterThan(1);
    expect(await verifyBook(book)).toMatchObject({ ok: true });
    expect(await stagedRows(book)).toBe(0);

    const single = await engine.freshBook();
    for (const { kind, text } of season.files) await oneByOne(single, kind, text);
    expect(await hashedTexts(book)).toHaveLength(rows.reduce((sum, each) => sum + each));
    expect(await hashedTexts(single)).toEqual(await hashedTexts(book));
    for (const table of indexTables)
      expect({ [table.name]: await rowsOf(single, table) }).toEqual({ [table.name]: await rowsOf(book, table) });
    // Its jar codes follow from the random seeds in its log, so they differ from the other book's.
    expect(await verifyBook(single)).toMatchObject({ ok: true });
  }, 300_000);

  test('is saved completely after others’ entries about other lots', async () => {
    const book = await engine.freshBook();
    let importing = true;
    const done = taken(book, 'gatherings', gatherings(200)).finally(() => (importing = false));
    const written: string[] = [];
    for (let n = 0; importing || n === 0; n++) {
      const sent = { id: `T${n}`, gatheredAt: '2026-03-18T16:00', source: 'lower lines', volume: '3 gal', by: 'WE' };
      const saved = await record(book, context, kindOf('gatherings'), sent);
      if ('id' in saved) written.push(saved.id);
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
    expect(await done).toMatchObject({ written: 200, refusalCount: 0 });
    const ids = (await entriesOf(book)).map((entry) => entry.record?.id ?? '');
    expect(ids.filter((id) => id.startsWith('T'))).toEqual(written);
    const first = ids.indexOf('L0');
    expect(ids.slice(first, first + 200)).toEqual(Array.from({ length: 200 }, (_, n) => `L${n}`));
    expect(await verifyBook(book)).toMatchObject({ ok: true, entries: written.length + 200 });
  });

  test('that corrects a hundred boils takes their sap from other lots, while others write', async () => {
    const book = await engine.freshBook();
    const boils = (first: number): string =>
      [
        'id,began_at,finished_at,gatherings,syrup_volume,by',
        ...Array.from({ length: 101 }, (_, n) => {
          const day = new Date(Date.UTC(2026, 1, 1 + Math.floor(n / 4))).toISOString().slice(0, 10);
          return `B${n},${day}T08:00,${day}T18:00,L${first + n}:5 gal,1 pt,JP`;
        }),
      ].join('\n');
    const early = gatherings(103).replaceAll('2026-03-17', '2026-01-31');
    expect(await taken(book, 'gatherings', early)).toMatchObject({ written: 103 });
    expect(await taken(book, 'boils', boils(0))).toMatchObject({ written: 101, refusals: [], faults: [] });
    let importing = true;
    const done = taken(book, 'boils', boils(2), false, 'Read from the wrong line').finally(() => (importing = false));
    let others = 0;
    for (; importing; others++) {
      const sent = { id: `T${others}`, gatheredAt: '2026-03-18T16:00', source: 'lower', volume: '3 gal', by: 'WE' };
      await record(book, context, kindOf('gatherings'), sent);
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
    expect(await done).toMatchObject({ corrected: 101, refusals: [], faults: [] });
    const flows = await book.read.rows<{ from_lot: string }>`SELECT from_lot FROM flow ORDER BY into_lot`;
    expect(flows.map((flow) => flow.from_lot).sort()).toEqual(
      Array.from({ length: 101 }, (_, n) => `L${2 + n}`).sort(),
    );
    expect(await verifyBook(book)).toMatchObject({ ok: true, entries: 103 + 101 + others + 101 });
  });

  test('is refused, and leaves nothing, if entries that concern every lot were written meanwhile', async () => {
    const book = await engine.freshBook();
    let importing = true;
    const done = taken(book, 'gatherings', gatherings(200)).finally(() => (importing = false));
    let others = 0;
    for (; importing; others++) {
      const sent = { what: `tank ${others}`, with: 'hot water', at: '2026-03-18T16:00', by: 'WE' };
      const saved = await record(book, context, kindByName.get('cleaning')!, sent);
      if ('problem' in saved) throw new Error(JSON.stringify(saved.problem));
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
    const { written, refusals } = await done;
    expect([written, refusals[0]?.sentence]).toEqual([0, expect.stringContaining('Nothing of it was saved')]);
    expect(await readHead(book.read)).toMatchObject({ entries: others });
    expect(await stagedRows(book)).toBe(0);
    expect(await verifyBook(book)).toMatchObject({ ok: true });
  });
});
