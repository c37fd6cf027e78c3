import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  renameSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import { backUpBeforeUpdate, backUpBook, backUpOnSchedule, checkBookFile } from '#libs/store/backup/backup.js';
import { markerOf } from '#libs/store/connection/book-location.js';
import { type Book, openBook } from '#libs/store/book.js';
import { startSeason, recordOrThrow } from '../support/sugarhouse.js';
import { inProcessTerminal, type Terminal } from '../support/command-line.js';

/** What may be where the book should be, and what starting the program does about it. */
let terminal: Terminal;
beforeEach(() => {
  terminal = inProcessTerminal();
});
afterEach(() => terminal.remove());
const aBook = async (file: string, work: (book: Book) => Promise<unknown>): Promise<void> => {
  const book = await openBook({ file });
  await work(book);
  await book.close();
};
/** The process id of a restore that was killed: no process has it. */
const deadPid = 4_194_303;

describe('an interrupted restore', () => {
  let file: string;
  let arriving: string;
  let aside: string;
  let [there, backup] = ['', ''];
  beforeEach(async () => {
    file = join(terminal.book, 'book.sqlite');
    arriving = `${file}.arriving-${deadPid}`;
    aside = join(terminal.book, 'book-kept-then.sqlite');
    await aBook(file, (book) => recordOrThrow(book, 'gathering', { id: 'G777' }));
    there = (await checkBookFile(file)).root;
    await aBook(terminal.path('other.sqlite'), async (book) => {
      await startSeason(book);
      await backUpBook(book, arriving);
    });
    backup = (await checkBookFile(arriving)).root;
    writeFileSync(`${file}-wal`, '');
  });
  const marked = (): void => writeFileSync(markerOf(file), JSON.stringify({ pid: deadPid, arriving, aside }));
  const steps: readonly (readonly [string, () => void])[] = [
    ['once its marker is written', () => {}],
    ['once the book was moved aside', () => renameSync(file, aside)],
    [
      'once the log beside it was moved too',
      () => {
        renameSync(file, aside);
        renameSync(`${file}-wal`, `${aside}-wal`);
      },
    ],
    [
      'once the other is in its place',
      () => {
        renameSync(file, aside);
        renameSync(`${file}-wal`, `${aside}-wal`);
        renameSync(arriving, file);
      },
    ],
  ];
  test.each(steps)('%s is finished by the next start, and the previous book is kept complete', async (_, upTo) => {
    marked();
    upTo();
    expect(await terminal.json('verify')).toMatchObject({ ok: true, root: backup });
    expect((await checkBookFile(aside)).root).toBe(there);
    expect(readdirSync(terminal.book).filter((name) => /arriving|restoring/.test(name))).toEqual([]);
  });

  test('before its marker is written leaves the book as it was, and no files behind', async () => {
    expect(await terminal.json('verify')).toMatchObject({ ok: true, root: there });
    expect(existsSync(arriving)).toBe(false);
  });

  test('is left to the restoring process while that runs, and the message names it', async () => {
    writeFileSync(markerOf(file), JSON.stringify({ pid: process.ppid, arriving, aside }));
    renameSync(file, aside);
    const formatted = await terminal.run('verify');
    expect([formatted.exit, formatted.err]).toEqual([
      4,
      expect.stringContaining(`Process ${process.ppid} is restoring the book`),
    ]);
    expect(existsSync(file)).toBe(false);
  });
});

describe('a folder without its book', () => {
  test.each([
    ['backups', (data: string) => join(data, 'backups', 'book-2026-05-01.sqlite'), 'backups/book-2026-05-01.sqlite'],
    ['a copy kept aside', (data: string) => join(data, 'book-kept-x.sqlite'), 'book-kept-x.sqlite'],
    ['only its log', (data: string) => join(data, 'book.sqlite-wal'), 'book.sqlite-wal'],
  ])('but with %s is refused with that reason, until somebody chooses to begin anew', async (_, at, named) => {
    mkdirSync(join(terminal.book, 'backups'), { recursive: true });
    writeFileSync(at(terminal.book), 'x');
    const formatted = await terminal.run('setup', '--name', 'Tamarack Hollow');
    expect([formatted.exit, formatted.err]).toEqual([4, expect.stringContaining(named)]);
    expect(formatted.err).toContain('--begin-anew');
    expect(existsSync(join(terminal.book, 'book.sqlite'))).toBe(false);
    if (named.endsWith('-wal')) rmSync(at(terminal.book));
    const anew = await terminal.run('setup', '--name', 'Tamarack Hollow', '--begin-anew');
    expect([anew.exit, anew.err]).toEqual([0, '']);
  });

  test('whose own folder is missing too is refused, naming it: a drive may not be mounted', async () => {
    const away = terminal.at('drive/sugarhouse/data');
    const formatted = await away.run('verify');
    expect([formatted.exit, formatted.err]).toEqual([4, expect.stringContaining(terminal.path('drive/sugarhouse'))]);
    expect(existsSync(terminal.path('drive'))).toBe(false);
  });

  test('that is new gets a new book', async () => {
    expect((await terminal.run('verify')).exit).toBe(0);
  });
});

test('the folder, the book and its backups are made private, whatever their mode was', async () => {
  mkdirSync(join(terminal.book, 'backups'), { recursive: true, mode: 0o755 });
  await aBook(join(terminal.book, 'book.sqlite'), (book) => recordOrThrow(book, 'gathering'));
  for (const path of ['', 'backups']) chmodSync(join(terminal.book, path), 0o777);
  copyFileSync(join(terminal.book, 'book.sqlite'), join(terminal.book, 'backups', 'book-2026-05-01.sqlite'));
  for (const path of ['book.sqlite', 'backups/book-2026-05-01.sqlite']) chmodSync(join(terminal.book, path), 0o666);
  await terminal.json('verify');
  await terminal.json('backup', terminal.path('own.sqlite'));
  const mode = (path: string): string => (statSync(path).mode & 0o777).toString(8);
  expect(['', 'backups'].map((path) => mode(join(terminal.book, path)))).toEqual(['700', '700']);
  expect(['book.sqlite', 'backups/book-2026-05-01.sqlite'].map((path) => mode(join(terminal.book, path)))).toEqual([
    '600',
    '600',
  ]);
  expect(mode(terminal.path('own.sqlite'))).toBe('600');
});

test('a backup writes over a file only with --force, and never over the book', async () => {
  await terminal.json('setup', '--name', 'Tamarack Hollow Sugarhouse');
  writeFileSync(terminal.path('own.sqlite'), 'mine');
  const formatted = await terminal.run('backup', terminal.path('own.sqlite'));
  expect([formatted.exit, formatted.err]).toEqual([4, expect.stringContaining('--force')]);
  await terminal.json('backup', terminal.path('own.sqlite'), '--force');
  expect((await checkBookFile(terminal.path('own.sqlite'))).entries).toBe(1);
  expect((await terminal.run('backup', join(terminal.book, 'book.sqlite'), '--force')).exit).toBe(4);
});

describe('backups in a folder', () => {
  let folder = '';
  let book: Book;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'boilbook-backups-'));
    book = await openBook({ file: join(folder, 'book.sqlite') });
  });
  afterAll(async () => {
    await book.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test('dated 2099 by a wrong clock are ordered by their content; tonight’s stays', async () => {
    const place = join(folder, 'backups');
    const nights: readonly (readonly [string, string])[] = [
      ['2026-05-01', 'G1'],
      ['2099-01-01', 'G2'],
      ['2099-01-02', 'G3'],
      ['2026-05-04', 'G4'],
      ['2026-05-05', 'G5'],
    ];
    for (const [stamp, id] of nights) {
      await recordOrThrow(book, 'gathering', { id });
      await backUpOnSchedule(book, place, stamp, 99);
    }
    await recordOrThrow(book, 'gathering', { id: 'G6' });
    const made = await backUpOnSchedule(book, place, '2026-05-06', 3);
    expect(existsSync(made)).toBe(true);
    expect(readdirSync(place).sort()).toEqual([
      'book-2026-05-04.sqlite',
      'book-2026-05-05.sqlite',
      'book-2026-05-06.sqlite',
    ]);
    await backUpOnSchedule(book, place, '2026-05-07', 1);
    expect(readdirSync(place)).toEqual(['book-2026-05-07.sqlite']);
  });

  test('made before updates are limited to five, and a killed process’s unfinished one is deleted', async () => {
    const place = join(folder, 'updates');
    mkdirSync(place);
    for (const name of [`a.sqlite.unfinished-${deadPid}`, `a.sqlite.unfinished-${process.ppid}`, 'x.unfinished-1'])
      writeFileSync(join(place, name), 'half');
    utimesSync(join(place, 'x.unfinished-1'), 1, 1);
    for (let n = 1; n <= 7; n++)
      await backUpBeforeUpdate(join(folder, 'book.sqlite'), place, new Date(Date.UTC(2026, 4, n)));
    const left = readdirSync(place).sort();
    expect(left.filter((name) => name.startsWith('before-update-'))).toHaveLength(5);
    expect(left.at(-1)).toContain('2026-05-07');
    expect(left.filter((name) => name.includes('unfinished'))).toEqual([`a.sqlite.unfinished-${process.ppid}`]);
  });
});
