import { mkdtempSync, readdirSync, rmSync, utimesSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { importRows } from '#libs/actions/import/import-rows.js';
import { gatherings } from '#libs/actions/kinds/gathering.js';
import { type Book, openBook } from '#libs/store/book.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import { readHead } from '#libs/store/log/log.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { indexTables, stagedNames } from '#libs/store/projection/index-tables.js';
import { compileFor, type Compiled, startChild } from '../support/child-process.js';
import { engines, postgres, sqlite } from '../support/engines.js';
import { fileOfGatherings, importContext, longFileRows } from '../support/long-file.js';

// A long file is imported on a copy of the book and then moved into it in one transaction. Copies go into a folder of
// this test, so that those of killed processes can be counted.
let copies = '';
const before = process.env['TMPDIR'];
beforeAll(() => {
  copies = mkdtempSync(join(tmpdir(), 'boilbook-copies-'));
  process.env['TMPDIR'] = copies;
});
afterAll(() => {
  if (before === undefined) delete process.env['TMPDIR'];
  else process.env['TMPDIR'] = before;
  rmSync(copies, { recursive: true, force: true });
});

const take = (book: Book, mark: string, rows = longFileRows) =>
  importRows(book, importContext, gatherings, fileOfGatherings(mark, rows));
const rowsOf = async (book: Book, mark: string): Promise<number> => {
  const ids = await book.read.rows<{ id: string }>`SELECT id FROM record WHERE kind = 'gathering'`;
  return ids.filter(({ id }) => id.startsWith(`${mark}-`)).length;
};
const stagedIn = async (book: Book): Promise<number> => {
  let rows = 0;
  for (const name of stagedNames())
    rows += Number((await book.read.statement<{ n: number }>(`SELECT COUNT(*) AS n FROM ${name}`))[0]?.n);
  return rows;
};

describe.each(engines())('A process killed while an import is moved into a book on $name', (engine) => {
  let compiled: Compiled;
  beforeAll(async () => {
    await engine.start();
    compiled = compileFor(['support/import-and-die.ts', 'support/long-file.ts']);
  });
  afterAll(async () => {
    compiled?.remove();
    await engine.stop();
  });

  // The move is a statement for the log and one for each table of the index, then one for the head.
  const last = 1 + indexTables.length;
  test('leaves all of it or nothing, loses no import before it, and the next start and import find the book whole', async () => {
    const location = await engine.freshKeeping();
    const moments: [string, number][] = [
      ['statement', 2],
      ['statement', last],
      ['after', 0],
      ['after', 3],
    ];
    let entries = 0;
    for (const [n, [when, number]] of moments.entries()) {
      const mark = `K${n}`;
      const script = compiled.script('support/import-and-die.ts');
      const child = startChild(process.execPath, [script, JSON.stringify(location), mark, when, String(number)]);
      const ended = await child.ended;
      expect(ended).toMatchObject({ signal: 'SIGKILL', errors: '' });
      expect(ended.lines[0]).toBe(`imported ${longFileRows}`);
      const book = await openBook(location);
      try {
        expect(await rowsOf(book, `${mark}-kept`)).toBe(longFileRows);
        const moved = await rowsOf(book, `${mark}-moved`);
        // Before its commit none of the import is stored; imports acknowledged before it are.
        expect(when === 'statement' ? [0] : ended.lines.length > 1 ? [longFileRows] : [0, longFileRows]).toContain(
          moved,
        );
        entries += longFileRows + moved;
        expect(await verifyBook(book)).toMatchObject({ ok: true, entries });
        const answer = await take(book, `${mark}-moved`);
        expect(answer).toMatchObject({ written: longFileRows - moved, same: moved, faults: [], refusals: [] });
        entries += longFileRows - moved;
        expect(await verifyBook(book)).toMatchObject({ ok: true, entries });
      } finally {
        await book.close();
      }
    }
  }, 240_000);

  test('leaves a copy, and on PostgreSQL staged rows, that an import more than a day later removes', async () => {
    const left = readdirSync(copies);
    expect(left.length).toBeGreaterThan(0);
    const longAgo = new Date(Date.now() - 2 * 86_400_000);
    for (const name of left) utimesSync(join(copies, name), longAgo, longAgo);
    const book = await engine.freshBook();
    if (engine.name === 'PostgreSQL')
      await book.writeHousehold((sql) =>
        sql.insert(
          'staged_entry',
          ['batch', 'place', 'sugarhouse', 'author', 'idempotency_key', 'sent', 'json', 'leaf'],
          [[`${longAgo.toISOString()} left`, 1, 'home', 'WE', 'k', 's', '{}', 'l']],
        ),
      );
    expect(await take(book, 'later')).toMatchObject({ written: longFileRows });
    expect(readdirSync(copies)).toEqual([]);
    if (engine.name === 'PostgreSQL') expect(await stagedIn(book)).toBe(0);
  }, 60_000);
});

// The longest file that is written under the book's lock; a longer one is moved in from a copy.
describe.each([
  ['moved', longFileRows],
  ['written', 100],
])('A disk that fills while a file is %s into a book in a file', (_, rows) => {
  const engine = sqlite();
  beforeAll(() => engine.start());
  afterAll(() => engine.stop());

  test('wherever it fills, leaves nothing of it, and the same file is imported once there is room', async () => {
    const book = await engine.freshBook();
    await take(book, 'first', rows);
    /** SQLite's own limit on the pages of the file: so many more than it has when the write begins. */
    const limited =
      <T>(pages: number, work: (tx: WriteTransaction) => Promise<T>) =>
      async (tx: WriteTransaction): Promise<T> => {
        const [has] = await tx.sql.statement<{ page_count: number }>('PRAGMA page_count');
        await tx.sql.statement(`PRAGMA max_page_count = ${Number(has?.page_count) + pages}`);
        return work(tx);
      };
    const withRoom = (pages: number): Book => ({
      ...book,
      write: (work) => book.write(limited(pages, work)),
      writeBeside: (scratchFile, work) => book.writeBeside(scratchFile, limited(pages, work)),
    });
    const head = await readHead(book.read);
    let pages = 0;
    let fault: string | undefined;
    do {
      fault = await take(withRoom(pages), 'second', rows).then(
        (answer) => void expect(answer).toMatchObject({ written: rows }),
        (thrown: Error) => thrown.message,
      );
      if (fault === undefined) break;
      expect(fault).toContain('SQLITE_FULL');
      expect(await readHead(book.read)).toEqual(head);
      expect(await rowsOf(book, 'second')).toBe(0);
      expect(readdirSync(copies)).toEqual([]);
      pages += 8;
    } while (pages < 1000);
    // At several places of the write: its tables are written one after the other.
    expect([fault, pages]).toEqual([undefined, expect.any(Number)]);
    expect(pages).toBeGreaterThan(4 * 8);
    expect(await verifyBook(book)).toMatchObject({ ok: true, entries: 2 * rows });
    expect(await take(withRoom(10_000), 'third', rows)).toMatchObject({ written: rows });
  }, 120_000);
});

// PostgreSQL's own error for a full disk (its appendix A, 53100 disk_full), raised where it would extend a file: by a
// trigger, since its files are not the test's to limit.
describe('A disk that fills while an import is moved into a book on PostgreSQL', () => {
  const engine = postgres();
  beforeAll(() => engine.start());
  afterAll(() => engine.stop());

  const places: readonly (readonly [string, string, string])[] = [
    ...['staged_entry', 'staged_lot', 'staged_record', 'entry', 'record', 'lot', 'lot_entry'].map(
      (table) => [`at a row of ${table}`, 'TRIGGER', `AFTER INSERT ON ${table} FOR EACH ROW`] as const,
    ),
    ['at the head of the log', 'TRIGGER', 'AFTER UPDATE ON record_head FOR EACH ROW WHEN (new.entries > old.entries)'],
    ['at the commit', 'CONSTRAINT TRIGGER', 'AFTER INSERT ON entry DEFERRABLE INITIALLY DEFERRED FOR EACH ROW'],
  ];

  test('wherever it fills, leaves nothing of it, and the same file is imported once there is room', async () => {
    const book = await engine.freshBook();
    await take(book, 'first');
    const head = await readHead(book.read);
    await book.writeHousehold(
      (sql) => sql.run`CREATE FUNCTION disk_full() RETURNS trigger LANGUAGE plpgsql AS
        'BEGIN RAISE disk_full USING MESSAGE = ''could not extend file: No space left on device''; END'`,
    );
    for (const [place, kind, when] of places) {
      const table = / ON (\w+) /.exec(when)?.[1] ?? '';
      await book.writeHousehold(async (sql) => {
        await sql.statement(`CREATE ${kind} fills ${when} EXECUTE FUNCTION disk_full()`);
      });
      const fault = await take(book, 'second').then(
        (answer) => `written ${answer.written}`,
        (thrown: Error) => thrown.message,
      );
      expect([place, fault]).toEqual([place, expect.stringContaining('No space left')]);
      expect([place, await readHead(book.read)]).toEqual([place, head]);
      expect([place, await rowsOf(book, 'second')]).toEqual([place, 0]);
      expect([place, await stagedIn(book)]).toEqual([place, 0]);
      expect(readdirSync(copies)).toEqual([]);
      await book.writeHousehold(async (sql) => {
        await sql.statement(`DROP TRIGGER fills ON ${table}`);
      });
    }
    await book.writeHousehold((sql) => sql.run`DROP FUNCTION disk_full()`);
    expect(await take(book, 'second')).toMatchObject({ written: longFileRows, same: 0, faults: [], refusals: [] });
    expect(await verifyBook(book)).toMatchObject({ ok: true, entries: 2 * longFileRows });
  }, 120_000);
});
