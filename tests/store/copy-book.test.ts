import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import type { Book } from '#libs/store/book.js';
import { copyBook } from '#libs/store/backup/copy-book.js';
import { savePerson, peopleOf } from '#libs/store/household/household.js';
import { readHead } from '#libs/store/log/log.js';
import { jarsOfPack } from '#libs/store/queries/lots.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { startSeason, sugarhouse, recordOrThrow } from '../support/sugarhouse.js';
import { postgres, sqlite } from '../support/engines.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

describe('A book copied from SQLite to PostgreSQL and back', () => {
  const [files, server] = [sqlite(), postgres()];
  beforeAll(async () => void (await Promise.all([files.start(), server.start()])));
  afterAll(async () => void (await Promise.all([files.stop(), server.stop()])));

  const codes = async (book: Book): Promise<string[]> => {
    const all: string[] = [];
    for await (const jar of jarsOfPack(sugarhouseReader(book.read, sugarhouse), '26077A-1')) all.push(jar.code);
    return all;
  };

  test('has the same root, jars, household and tables after each copy, and can be written to', async () => {
    const first = await files.freshBook();
    await startSeason(first);
    await recordOrThrow(first, 'dispatch', {
      jars: (await codes(first)).slice(0, 3),
      to: 'Zoë’s table, “Millrace Green” ⅜',
    });
    await first.writeHousehold((sql) =>
      savePerson({ sql, sugarhouse }, { initials: 'JP', name: 'June Pascoe', role: 'helper', password: undefined }),
    );
    const there = await server.freshBook();
    expect(await copyBook(first, there)).toEqual({ entries: 5 });
    const back = await files.freshBook();
    expect(await copyBook(there, back)).toEqual({ entries: 5 });
    for (const book of [there, back]) {
      expect(await readHead(book.read)).toEqual(await readHead(first.read));
      expect(await verifyBook(book, await readHead(first.read))).toMatchObject({ ok: true, entries: 5 });
      expect(await codes(book)).toEqual(await codes(first));
      expect(await peopleOf(sugarhouseReader(book.read, sugarhouse))).toEqual(
        await peopleOf(sugarhouseReader(first.read, sugarhouse)),
      );
      expect(await recordOrThrow(book, 'count')).toMatchObject({ entry: 6 });
      expect(await verifyBook(book)).toMatchObject({ ok: true, entries: 6 });
    }
  });

  test('is never copied over another book', async () => {
    const [first, there] = [await files.freshBook(), await server.freshBook()];
    await recordOrThrow(first, 'gathering');
    await recordOrThrow(there, 'gathering', { id: 'G900' });
    expect(await copyBook(first, there)).toEqual({ problem: 'not-empty' });
    expect(await verifyBook(there)).toMatchObject({ ok: true, entries: 1 });
  });
});
