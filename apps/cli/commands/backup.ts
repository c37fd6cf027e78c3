import { join, resolve } from 'node:path';
import { invalid, refused, unknown } from '#libs/actions/record/problem.js';
import { backUpBook, BookInUse, NotABook, restoreBook } from '#libs/store/backup/backup.js';
import { readHead } from '#libs/store/log/log.js';
import { existsSync } from 'node:fs';
import { described } from '../catalogue.js';
import type { Command } from '../command.js';

export const backup: Command = {
  ...described('backup'),
  options: { force: 'flag' },
  meaning: { force: 'write over a file that is there' },
  run: async (bench) => {
    const [path] = bench.argv;
    if (path === undefined || bench.argv.length > 1)
      return invalid('file', 'one file like book-backup.sqlite', bench.argv.join(' ') || 'nothing');
    const file = resolve(path);
    const { location } = bench.settings;
    if ('file' in location && file === location.file)
      return refused('own-file', 'That is the book itself: back it up under another name.');
    if (existsSync(file) && bench.options['force'] !== true)
      return refused('file-there', `${path} is there already: give another name, or --force to write over it.`);
    const book = await bench.book();
    await backUpBook(book, file);
    const head = await readHead(book.read);
    return { json: { file, ...head }, lines: [`${file}: ${head.entries} entries, root ${head.root}`] };
  },
};

export const restore: Command = {
  ...described('restore'),
  run: async (bench) => {
    const [path] = bench.argv;
    if (path === undefined || bench.argv.length > 1)
      return invalid('file', 'one file like book-backup.sqlite', bench.argv.join(' ') || 'nothing');
    if (!existsSync(path)) return unknown('file', path);
    if (!('file' in bench.settings.location))
      return refused('postgres', 'A backup is restored into SQLite; carry it to PostgreSQL with book move.');
    try {
      const stamp = bench.now.toISOString().replace(/[:.]/g, '-');
      const { keptAside } = await restoreBook(resolve(path), join(bench.settings.folder, 'book.sqlite'), stamp);
      const head = await readHead((await bench.book()).read);
      return {
        json: { ...head, keptAside: keptAside ?? null },
        lines: [
          `Restored: ${head.entries} entries, root ${head.root}.`,
          ...(keptAside ? [`The book that was there is kept as ${keptAside}.`] : []),
        ],
      };
    } catch (fault) {
      if (fault instanceof BookInUse) return refused('in-use', fault.message);
      if (fault instanceof NotABook) return refused('damaged', fault.message);
      throw fault;
    }
  },
};
