import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { readHead } from '#libs/store/log/log.js';
import { findRecord, recordsOf } from '#libs/store/queries/lots.js';
import { openBook } from '#libs/store/book.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { compileFor, type Compiled, startChild } from '../support/child-process.js';
import { engines } from '../support/engines.js';
import { sugarhouse, recordOrThrow } from '../support/sugarhouse.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

describe.each(engines())('Concurrent use of a book on $name', (engine) => {
  let compiled: Compiled;
  beforeAll(async () => {
    await engine.start();
    compiled = compileFor(['support/write-gatherings.ts']);
  });
  afterAll(async () => {
    compiled?.remove();
    await engine.stop();
  });

  test('200 rounds: one write is rolled back while another is under way, and no acknowledged one is lost', async () => {
    const book = await engine.freshBook();
    const lost: string[] = [];
    for (let round = 1; round <= 200; round++) {
      const rolledBack = book.write(async (page) => {
        await page.sql
          .run`INSERT INTO household_note (sugarhouse, name, words) VALUES ('home', ${`round ${round}`}, 'x')`;
        await new Promise((resolve) => setImmediate(resolve));
        return { problem: 'changed my mind' };
      });
      const saved = recordOrThrow(book, 'gathering', { id: `G${round}` });
      // A reader in the middle sees the book before or after, never in between.
      const seen = book.read.rows`SELECT name FROM household_note`;
      await Promise.all([rolledBack, saved]);
      expect(await seen).toEqual([]);
      if (!(await findRecord(sugarhouseReader(book.read, sugarhouse), 'gathering', `G${round}`)))
        lost.push(`G${round}`);
    }
    expect(lost).toEqual([]);
    expect((await readHead(book.read)).entries).toBe(200);
    expect(await verifyBook(book)).toMatchObject({ ok: true });
  });

  // A write inserts rows in the background while it goes on.
  test('50 rounds: a write that is rolled back while its rows are being inserted leaves none of them', async () => {
    const book = await engine.freshBook();
    for (let round = 1; round <= 50; round++) {
      // A number of rows that no statement was prepared for, so that a rollback sent beside it would come first.
      const rows = Array.from({ length: 200 + round }, (_, n) => ['home', `L${round}`, n, 'record', 'gathering']);
      const rolledBack = book.write(async ({ sql }) => {
        await sql.insert('lot_entry', ['sugarhouse', 'lot', 'seq', 'entry_type', 'kind'], rows);
        if (round % 2 === 0) throw new Error('stopped');
        return { problem: 'changed my mind' };
      });
      await rolledBack.catch((fault: Error) => expect(fault.message).toBe('stopped'));
      await recordOrThrow(book, 'gathering', { id: `G${round}` });
    }
    const left = await book.read.rows<{ lot: string }>`SELECT DISTINCT lot FROM lot_entry WHERE lot LIKE 'L%'`;
    expect(left).toEqual([]);
    expect(await verifyBook(book)).toMatchObject({ ok: true, entries: 50 });
  });

  test('a long read sees one consistent snapshot while others write', async () => {
    const book = await engine.freshBook();
    for (let n = 1; n <= 20; n++) await recordOrThrow(book, 'gathering', { id: `G${n}` });
    await book.snapshot(async (sql) => {
      const before = (await recordsOf({ sql, sugarhouse }, 'gathering')).length;
      for (let n = 21; n <= 40; n++) await recordOrThrow(book, 'gathering', { id: `G${n}` });
      expect((await recordsOf({ sql, sugarhouse }, 'gathering')).length).toBe(before);
      expect((await readHead(sql)).entries).toBe(20);
    });
    expect((await readHead(book.read)).entries).toBe(40);
  });

  test('three processes with 100 writes each: every one is saved, in one order', async () => {
    const location = await engine.freshKeeping();
    const texts = ['A', 'B', 'C'];
    const ended = await Promise.all(
      texts.map(
        (mark) =>
          startChild(process.execPath, [
            compiled.script('support/write-gatherings.ts'),
            JSON.stringify(location),
            mark,
            '100',
          ]).ended,
      ),
    );
    for (const each of ended) expect({ code: each.code, errors: each.errors }).toEqual({ code: 0, errors: '' });
    const saved = ended.flatMap((each) => each.lines.filter((line) => line.startsWith('kept ')));
    const places = saved.map((line) => Number(line.split(' ')[2])).sort((a, b) => a - b);
    expect(places).toEqual(Array.from({ length: 300 }, (_, n) => n + 1));
    const book = await openBook(location);
    expect(
      (await recordsOf(sugarhouseReader(book.read, sugarhouse), 'gathering')).map((each) => each.id).sort(),
    ).toEqual(saved.map((line) => line.split(' ')[1]).sort());
    expect(await verifyBook(book)).toMatchObject({ ok: true, entries: 300 });
    await book.close();
  });

  test('two processes that send the same hundred writes save each one once', async () => {
    const location = await engine.freshKeeping();
    const both = [1, 2].map(
      () =>
        startChild(process.execPath, [
          compiled.script('support/write-gatherings.ts'),
          JSON.stringify(location),
          'S',
          '100',
        ]).ended,
    );
    const places = (await Promise.all(both)).map((each) => each.lines.filter((line) => line.startsWith('kept ')));
    expect(places[0]).toHaveLength(100);
    // Each got the same entry, whichever of them wrote it.
    expect(places[1]).toEqual(places[0]);
    const book = await openBook(location);
    expect((await readHead(book.read)).entries).toBe(100);
    await book.close();
  });

  test('four processes can open an empty database at the same moment', async () => {
    const empty = await engine.bareKeeping();
    const four = ['A', 'B', 'C', 'D'].map(
      (mark) =>
        startChild(process.execPath, [compiled.script('support/write-gatherings.ts'), JSON.stringify(empty), mark, '3'])
          .ended,
    );
    for (const each of await Promise.all(four))
      expect({ code: each.code, errors: each.errors }).toEqual({ code: 0, errors: '' });
    const book = await openBook(empty);
    expect(await verifyBook(book)).toMatchObject({ ok: true, entries: 12 });
    await book.close();
  });
});
