import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import { importRows } from '#libs/actions/import/import-rows.js';
import { gatherings } from '#libs/actions/kinds/gathering.js';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { traceLot } from '#libs/actions/lots/trace-lot.js';
import { type Book, openBook } from '#libs/store/book.js';
import { readHead } from '#libs/store/log/log.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { startSeason, writeContext, done, sugarhouse, recordOrThrow } from '../support/sugarhouse.js';
import { postgres } from '../support/engines.js';
import { fileOfGatherings, importContext, longFileRows } from '../support/long-file.js';
import { failingConnection, type FailingConnection, type Break } from '../support/failing-connection.js';

/** As sent over the connection: not READ COMMITTED, which begins every transaction. */
const commit = 'COMMIT\0';

describe('A connection to PostgreSQL that is lost', () => {
  const engine = postgres();
  let connection: FailingConnection;
  let book: Book;
  beforeAll(() => engine.start());
  afterAll(() => engine.stop());
  beforeEach(async () => {
    const { url } = (await engine.freshKeeping()) as { url: string };
    const before = await openBook({ url });
    await startSeason(before);
    await before.close();
    // New connections: once a statement is prepared, its text is no longer sent.
    connection = await failingConnection(url);
    book = await openBook({ url: connection.url });
  });
  afterEach(async () => {
    await book.close();
    await connection.close();
  });

  const moments: readonly (readonly [string, Break])[] = [
    ['as the lock is asked for', { at: 'UPDATE record_head', when: 'before' }],
    ['in the middle of the write', { at: 'INSERT INTO entry', when: 'before' }],
    ['before the commit arrives', { at: commit, when: 'before' }],
    ['after the commit, before its answer arrives', { at: commit, when: 'after' }],
  ];
  test.each(moments)('%s: the write is saved once, also without an idempotency key', async (_, moment) => {
    const before = (await readHead(book.read)).entries;
    connection.breakOnce(moment);
    const answer = await recordOrThrow(book, 'count', { id: 'C77' });
    expect(connection.broke()).toBe(1);
    expect(answer).toMatchObject({ outcome: 'new', id: 'C77', entry: before + 1 });
    expect(await verifyBook(book)).toMatchObject({ ok: true, entries: before + 1 });
    // The response belongs to the stored entry: a pack's jars, for example, have the codes that were returned.
    expect(await recordOrThrow(book, 'count', { id: 'C78' })).toMatchObject({ entry: before + 2 });
  });

  // A long file is written on a copy and moved into the book in one transaction, by this statement first.
  const ofTheMove = 'INSERT INTO entry (seq, sugarhouse, author, idempotency_key, sent, json, leaf) SELECT place';
  const inTheMove: readonly (readonly [string, Break])[] = [
    ['as a long file is moved into the book', { at: ofTheMove, when: 'before' }],
    ['before the commit of a long file arrives', { at: commit, when: 'before', onceSent: ofTheMove }],
    ['after the commit of a long file, before its answer arrives', { at: commit, when: 'after', onceSent: ofTheMove }],
  ];
  test.each(inTheMove)('%s: its rows are saved once and reported as new', async (_, moment) => {
    const before = (await readHead(book.read)).entries;
    connection.breakOnce(moment);
    const answer = await importRows(book, importContext, gatherings, fileOfGatherings('L'));
    expect(connection.broke()).toBe(1);
    expect(answer).toMatchObject({ written: longFileRows, same: 0, corrected: 0, faults: [], refusals: [] });
    expect(await verifyBook(book)).toMatchObject({ ok: true, entries: before + longFileRows });
    expect(await importRows(book, importContext, gatherings, fileOfGatherings('L'))).toMatchObject({
      written: 0,
      same: longFileRows,
    });
  });

  test('the connection is lost twice: again while the log is checked for the write', async () => {
    const before = (await readHead(book.read)).entries;
    connection.breakOnce({ at: commit, when: 'after' });
    const writing = recordOrThrow(book, 'count', { id: 'C77' });
    while (connection.broke() === 0) await new Promise((resolve) => setTimeout(resolve, 1));
    connection.breakOnce({ at: commit, when: 'after' });
    expect(await writing).toMatchObject({ outcome: 'new', entry: before + 1 });
    expect(connection.broke()).toBe(2);
    expect((await readHead(book.read)).entries).toBe(before + 1);
  });

  test('a reader retries, and a trace begins again from one consistent snapshot', async () => {
    connection.breakOnce({ at: 'FROM record_head', when: 'before' });
    expect((await readHead(book.read)).entries).toBe(4);
    connection.breakOnce({ at: 'FROM flow', when: 'after' });
    const trace = await book.snapshot((sql) => traceLot({ sql, sugarhouse }, '26077A-1', writeContext().now), {
      rerun: true,
    });
    expect(trace).toMatchObject({ boils: ['26077A'], gatherings: ['G001'] });
    expect(connection.broke()).toBe(2);
  });

  test('a connection that the server ends as it opens is replaced, for a writer and for a reader', async () => {
    const before = (await readHead(book.read)).entries;
    connection.cutFor(0);
    connection.terminateAsOpened();
    await recordOrThrow(book, 'count', { id: 'C77' });
    expect(connection.broke()).toBe(1);
    connection.cutFor(0);
    connection.terminateAsOpened();
    expect(await traceLot({ sql: book.read, sugarhouse }, '26077A-1', writeContext().now)).toMatchObject({
      boils: ['26077A'],
    });
    expect(connection.broke()).toBe(2);
    expect(await verifyBook(book)).toMatchObject({ ok: true, entries: before + 1 });
  });

  test('a response that has begun to stream is not restarted', async () => {
    let begun = 0;
    connection.breakOnce({ at: 'FROM flow', when: 'before' });
    const telling = book.snapshot((sql) => {
      begun++;
      return traceLot({ sql, sugarhouse }, '26077A-1', writeContext().now);
    });
    await expect(telling).rejects.toThrow();
    expect(begun).toBe(1);
  });

  test('an unknown outcome of a household commit is an error, not a second key', async () => {
    connection.breakOnce({ at: commit, when: 'after' });
    await expect(addKey(book, sugarhouse, { name: 'stall', role: 'guest' }, writeContext().now)).rejects.toThrow();
    connection.breakOnce({ at: 'INSERT INTO household_key', when: 'before' });
    expect(done(await addKey(book, sugarhouse, { name: 'bench', role: 'guest' }, writeContext().now))).toMatchObject({
      name: 'bench',
    });
  });

  test('readers and writers wait for a database that is down for two seconds', async () => {
    const before = (await readHead(book.read)).entries;
    connection.cutFor(2000);
    const [head] = await Promise.all([
      readHead(book.read),
      ...Array.from({ length: 8 }, (_, n) => recordOrThrow(book, 'count', { id: `C${80 + n}` })),
    ]);
    expect(head.entries).toBeGreaterThanOrEqual(before);
    expect(await verifyBook(book)).toMatchObject({ ok: true, entries: before + 8 });
  });
});
