import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { importRows } from '#libs/actions/import/import-rows.js';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { openForWriting } from '#libs/store/connection/engine.js';
import { cacheReads } from '#libs/store/connection/read-cache.js';
import { type GroupedBy, otherEnd, readGroups, readWalk, type Walk } from '#libs/store/connection/row-groups.js';
import { type KeyStart, readRows } from '#libs/store/connection/rows-by-key.js';
import { type Row, sqlAsking, type Sql, type SqlValue } from '#libs/store/connection/sql.js';
import { inTransaction } from '#libs/store/connection/writer.js';
import type { Book } from '#libs/store/book.js';
import { takeLogAppender } from '#libs/store/log/log.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { inventSeason } from '../generator/invent-season.js';
import { engines } from '../support/engines.js';

/** Returns what `cacheReads` does, and sends each query to the connection as well, to compare. */
function checked(
  plain: Sql,
  wrong: string[],
  counts: { reads: number; stored: number },
): { sql: Sql; flush: () => Promise<void> } {
  let reached = 0;
  const counted = sqlAsking(plain.engine, (text, values) => {
    reached++;
    return plain.statement(text, values);
  });
  const { sql, flush } = cacheReads({
    ...counted,
    insert: (...inserted) => plain.insert(...inserted),
  });
  const readWatched = async (sql: Sql, start: KeyStart, last: readonly string[]): Promise<Row[]> => {
    const before = reached;
    const answer = (await sql.keyed?.read(start, last)) ?? [];
    counts.reads++;
    if (reached === before) counts.stored++;
    await flush();
    const fresh = await readRows(plain, start, last);
    if (inOrder(fresh) !== inOrder(answer)) wrong.push(JSON.stringify([start, last]));
    return answer;
  };
  const groupWatched = async (sql: Sql, by: GroupedBy, values: readonly SqlValue[]): Promise<Row[]> => {
    const before = reached;
    const answer = (await sql.grouped?.read(by, values)) ?? [];
    counts.reads++;
    if (reached === before) counts.stored++;
    await flush();
    if (inOrder(await readGroups(plain, by, [...new Set(values)])) !== inOrder(answer))
      wrong.push(JSON.stringify([by, values]));
    return answer;
  };
  const walkWatched = async (sql: Sql, walk: Walk, start: readonly string[]): Promise<string[]> => {
    const answer = (await sql.grouped?.walk(walk, start)) ?? [];
    await flush();
    const fresh = [...start, ...(await readWalk(plain, walk, start)).map((row) => String(row[otherEnd(walk.from)]))];
    if ([...new Set(fresh)].sort().join() !== [...answer].sort().join()) wrong.push(JSON.stringify([walk, start]));
    return answer;
  };
  const watched = (sql: Sql): Sql => {
    const ask = async (text: string, values: readonly (string | number | null)[]): Promise<unknown[]> => {
      const before = reached;
      const answer = await sql.statement(text, values);
      if (!/^\s*(?:SELECT|WITH)\b/.test(text)) return answer;
      counts.reads++;
      if (reached === before) counts.stored++;
      await flush();
      const fresh = await plain.statement(text, values);
      if (JSON.stringify(fresh) !== JSON.stringify(answer)) wrong.push(`${text} ${JSON.stringify(values)}`);
      return answer;
    };
    return {
      ...sqlAsking(plain.engine, ask),
      insert: (...inserted) => sql.insert(...inserted),
      ...(sql.keyed && { keyed: { ...sql.keyed, read: (start, last) => readWatched(sql, start, last) } }),
      ...(sql.grouped && {
        grouped: {
          ...sql.grouped,
          read: (by, values) => groupWatched(sql, by, values),
          walk: (walk, start) => walkWatched(sql, walk, start),
        },
      }),
    };
  };
  return { sql: watched(sql), flush };
}

const inOrder = (rows: readonly Row[]): string => JSON.stringify(rows.map((row) => JSON.stringify(row)).sort());

const season = inventSeason(11, 8);
const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: season.now, zone: 'America/New_York' };
const textOf = (plural: string): string => season.files.find(({ kind }) => kind === plural)!.text;

describe.each(engines())('cached reads of a write on $name', (engine) => {
  beforeAll(() => engine.start());
  afterAll(() => engine.stop());

  test('are equal to the book’s present answers, for every query of a season of files and its corrections', async () => {
    const book = await engine.freshBook();
    const connection = await openForWriting(book.location);
    const wrong: string[] = [];
    const counts = { reads: 0, stored: 0 };
    const watched: Book = {
      ...book,
      write: (work) =>
        inTransaction(connection, async (plain) => {
          const { sql, flush } = checked(plain, wrong, counts);
          const appender = await takeLogAppender(sql);
          const answer = await work({ sql, append: appender.append, adopt: appender.adopt });
          await appender.close();
          await flush();
          return answer;
        }),
    };
    const bring = async (plural: string, text: string, why?: string): Promise<void> => {
      const kind = importKinds.find((each) => each.plural === plural)!;
      const done = await importRows(watched, context, kind, Buffer.from(text), { why });
      expect([done.faults, done.refusals, done.written + done.corrected > 0]).toEqual([[], [], true]);
      // A longer file is written on a copy of the book, over a connection of its own.
      expect(done.rows).toBeLessThanOrEqual(50);
    };
    for (const { kind, text } of season.files) await bring(kind, text);
    await bring('boils', textOf('boils').replaceAll('none', 'butter'), 'It was butter');
    await bring('gatherings', textOf('gatherings').replace(/(\d+)(?:\.\d+)? gal/g, '$1.25 gal'), 'Measured again');
    await connection.destroy();
    expect(wrong).toEqual([]);
    expect(counts.stored).toBeGreaterThan(300);
    expect(await verifyBook(book)).toMatchObject({ ok: true });
  });
});
