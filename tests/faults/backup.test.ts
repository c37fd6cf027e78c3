import {
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import {
  backUpBook,
  backUpFile,
  backUpOnSchedule,
  BookInUse,
  checkBookFile,
  NotABook,
  restoreBook,
} from '#libs/store/backup/backup.js';
import { type Book, openBook } from '#libs/store/book.js';
import { readHead } from '#libs/store/log/log.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { startSeason, recordOrThrow } from '../support/sugarhouse.js';
import { compileFor, type Compiled, startChild } from '../support/child-process.js';
import { engines } from '../support/engines.js';

const stamp = '2026-05-01T22-00-00';

describe('A backup', () => {
  let folder = '';
  let number = 0;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'boilbook-backup-'));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const fresh = (name: string): string => {
    const file = join(folder, `${++number}`, name);
    mkdirSync(dirname(file), { recursive: true });
    return file;
  };

  describe.each(engines())('of a book on $name', (engine) => {
    beforeAll(() => engine.start());
    afterAll(() => engine.stop());

    test('made while others write contains a complete book, is restored, and can be written to', async () => {
      const book = await engine.freshBook();
      await startSeason(book);
      let writing = true;
      const writer = (async () => {
        let n = 0;
        for (; writing && n < 2000; n++) await recordOrThrow(book, 'gathering', { id: `W${n}` });
        return n;
      })();
      const file = fresh('backup.sqlite');
      await backUpBook(book, file);
      writing = false;
      const inAll = await writer;
      const result = await checkBookFile(file);
      expect(result.entries).toBeGreaterThanOrEqual(4);
      expect(result.entries).toBeLessThanOrEqual(4 + inAll);
      expect(readdirSync(dirname(file))).toEqual(['backup.sqlite']);

      const home = fresh('book.sqlite');
      expect(await restoreBook(file, home, stamp)).toEqual({ keptAside: undefined });
      const again = await openBook({ file: home });
      expect(await verifyBook(again, result)).toMatchObject({ ok: true, ...result });
      // It is the beginning of the book that continued: that log contains this one's root.
      expect(await verifyBook(book, result)).toMatchObject({ ok: true });
      expect(await recordOrThrow(again, 'count')).toMatchObject({ entry: result.entries + 1 });
      await again.close();
    });

    test('made every night replaces all but the last three', async () => {
      const book = await engine.freshBook();
      await recordOrThrow(book, 'gathering');
      const place = dirname(fresh('x'));
      writeFileSync(join(place, 'my own copy.sqlite'), 'kept');
      for (const day of ['01', '02', '03', '04', '05']) await backUpOnSchedule(book, place, `2026-05-${day}T03-00`, 3);
      expect(readdirSync(place).sort()).toEqual([
        'book-2026-05-03T03-00.sqlite',
        'book-2026-05-04T03-00.sqlite',
        'book-2026-05-05T03-00.sqlite',
        'my own copy.sqlite',
      ]);
    });
  });

  describe('to be restored', () => {
    let compiled: Compiled;
    let backup = '';
    let present = '';
    let presentRoot = '';
    beforeAll(async () => {
      compiled = compileFor(['support/write-gatherings.ts']);
      backup = fresh('backup.sqlite');
      const book = await openBook({ file: fresh('first.sqlite') });
      await startSeason(book);
      await backUpBook(book, backup);
      await book.close();
    });
    afterAll(() => compiled?.remove());
    beforeEach(async () => {
      present = fresh('book.sqlite');
      const book = await openBook({ file: present });
      await recordOrThrow(book, 'gathering', { id: 'G777' });
      presentRoot = (await readHead(book.read)).root;
      await book.close();
    });
    const rootOfPresent = async (): Promise<string> => {
      const book = await openBook({ file: present });
      const { root } = await readHead(book.read);
      await book.close();
      return root;
    };

    test('renames the present book and keeps it complete', async () => {
      const { keptAside } = await restoreBook(backup, present, stamp);
      expect(keptAside).toBe(join(dirname(present), `book-kept-${stamp}.sqlite`));
      expect((await checkBookFile(keptAside ?? '')).root).toBe(presentRoot);
      expect(await rootOfPresent()).toBe((await checkBookFile(backup)).root);
    });

    test('twice in one minute keeps both earlier books', async () => {
      const first = await restoreBook(backup, present, stamp);
      const second = await restoreBook(backup, present, stamp);
      expect(second.keptAside).not.toBe(first.keptAside);
      expect((await checkBookFile(first.keptAside ?? '')).root).toBe(presentRoot);
    });

    const damages: readonly (readonly [string, (file: string) => unknown])[] = [
      ['is not there', (file) => rmSync(file)],
      ['is empty', (file) => writeFileSync(file, '')],
      ['is something else', (file) => writeFileSync(file, 'a shopping list\n'.repeat(999))],
      ['was cut short', (file) => truncateSync(file, 40_960)],
      ['has a page overwritten', (file) => overwrite(file, 3 * 4096, 4096)],
      ['has a letter of an entry changed', (file) => changeText(file, 'North slope', 'South slope')],
      ['has a hash changed', (file) => changeText(file, '"volume":"120 gal"', '"volume":"121 gal"')],
      [
        'is of a newer program',
        async (file) => {
          const book = await openBook({ file });
          await book.writeHousehold((sql) => sql.run`INSERT INTO migrations (timestamp, name) VALUES (1, 'Newer1')`);
          await book.close();
        },
      ],
    ];
    test.each(damages)('is refused where it %s, and the present book is untouched', async (_, damage) => {
      const file = fresh('damaged.sqlite');
      copyFileSync(backup, file);
      await damage(file);
      await expect(restoreBook(file, present, stamp)).rejects.toThrow(NotABook);
      expect(readdirSync(dirname(present))).toEqual(['book.sqlite']);
      expect(await rootOfPresent()).toBe(presentRoot);
    });

    test('is refused while another process has the book open', async () => {
      const child = startChild(process.execPath, [
        compiled.script('support/write-gatherings.ts'),
        JSON.stringify({ file: present }),
        'O',
        '1000000',
      ]);
      try {
        await child.waitForLine(/^kept /);
        await expect(restoreBook(backup, present, stamp)).rejects.toThrow(BookInUse);
      } finally {
        child.process.kill('SIGKILL');
        await child.ended;
      }
      // What the killed process left in the write-ahead log is in the book that is kept aside.
      const saved = child.lines.filter((line) => line.startsWith('kept ')).length;
      const { keptAside } = await restoreBook(backup, present, stamp);
      expect((await checkBookFile(keptAside ?? '')).entries).toBeGreaterThanOrEqual(1 + saved);
      expect(await rootOfPresent()).toBe((await checkBookFile(backup)).root);
    });

    const ruins: readonly (readonly [string, (file: string) => unknown])[] = [
      ['its first page is', (file) => overwrite(file, 0, 4096)],
      ['all of it is', (file) => overwrite(file, 0, readFileSync(file).length)],
      ['it is gone but for the log beside it', (file) => rmSync(file)],
    ];
    test.each(ruins)('replaces a damaged present book: %s; none of the damage remains', async (_, ruin) => {
      // A killed process left its newest pages in the write-ahead log; then the file itself was damaged.
      const child = startChild(process.execPath, [
        compiled.script('support/write-gatherings.ts'),
        JSON.stringify({ file: present }),
        'O',
        '1000000',
      ]);
      await child.waitForLine(/^kept O20 /);
      child.process.kill('SIGKILL');
      await child.ended;
      expect(existsSync(`${present}-wal`)).toBe(true);
      await ruin(present);
      await restoreBook(backup, present, stamp);
      const again = await openBook({ file: present });
      expect(await verifyBook(again)).toMatchObject({ ok: true, ...(await checkBookFile(backup)) });
      await again.close();
    });
  });

  test('of the unchanged book is made before an old index is rebuilt, and none is made for a new book', async () => {
    const file = fresh('book.sqlite');
    const request: string[] = [];
    const saved = `${file}.before`;
    const before = async (): Promise<void> => {
      request.push('once');
      await backUpFile(file, saved);
    };
    const book: Book = await openBook({ file }, before);
    expect(request).toEqual([]);
    await startSeason(book);
    await book.writeHousehold((sql) => sql.run`UPDATE record_head SET index_version = 0`);
    const head = await readHead(book.read);
    await book.close();
    await (await openBook({ file }, before)).close();
    expect(request).toEqual(['once']);
    expect(await checkBookFile(saved)).toEqual(head);
  });
});

function overwrite(file: string, from: number, length: number): void {
  const bytes = readFileSync(file);
  bytes.fill(0x5a, from, from + length);
  writeFileSync(file, bytes);
}

function changeText(file: string, from: string, to: string): void {
  const bytes = readFileSync(file);
  const at = bytes.indexOf(from);
  expect(at).toBeGreaterThan(0);
  for (let place = at; place >= 0; place = bytes.indexOf(from, place + 1)) bytes.write(to, place);
  writeFileSync(file, bytes);
}
