import { join, resolve } from 'node:path';
import { invalid, refused, unknown } from '#libs/actions/record/problem.js';
import { backUpBook, BookInUse, NotABook, restoreBook } from '#libs/store/backup/backup.js';
import { readHead } from '#libs/store/log/log.js';
import { existsSync } from 'node:fs';
import { catalogueEntry } from '../catalogue.js';
import type { Command } from '../command.js';

export const backup: Command = {
  ...catalogueEntry('backup'),
  options: { force: 'flag' },
  optionHelp: { force: 'Overwrites an existing file.' },
  run: async (cli) => {
    const [path] = cli.argv;
    if (path === undefined || cli.argv.length > 1)
      return invalid('file', 'one file like book-backup.sqlite', cli.argv.join(' ') || 'nothing');
    const file = resolve(path);
    const { location } = cli.settings;
    if ('file' in location && file === location.file)
      return refused('own-file', 'That file is the book itself: choose another name for the backup.');
    if (existsSync(file) && cli.options['force'] !== true)
      return refused('file-there', `${path} exists already. Choose another name, or add --force to overwrite it.`);
    const book = await cli.book();
    await backUpBook(book, file);
    const head = await readHead(book.read);
    return { json: { file, ...head }, lines: [`${file}: backup of ${head.entries} entries, root ${head.root}`] };
  },
};

export const restore: Command = {
  ...catalogueEntry('restore'),
  run: async (cli) => {
    const [path] = cli.argv;
    if (path === undefined || cli.argv.length > 1)
      return invalid('file', 'one file like book-backup.sqlite', cli.argv.join(' ') || 'nothing');
    if (!existsSync(path)) return unknown('file', path);
    if (!('file' in cli.settings.location))
      return refused(
        'postgres',
        'A backup can be restored only into a SQLite book. Unset BOILBOOK_DATABASE_URL, restore it, then copy it to PostgreSQL with book move.',
      );
    try {
      const stamp = cli.now.toISOString().replace(/[:.]/g, '-');
      const { keptAside } = await restoreBook(resolve(path), join(cli.settings.folder, 'book.sqlite'), stamp);
      const head = await readHead((await cli.book()).read);
      return {
        json: { ...head, keptAside: keptAside ?? null },
        lines: [
          `Restored: ${head.entries} entries, root ${head.root}.`,
          ...(keptAside ? [`The previous book is kept as ${keptAside}.`] : []),
        ],
      };
    } catch (fault) {
      if (fault instanceof BookInUse) return refused('in-use', fault.message);
      if (fault instanceof NotABook) return refused('damaged', fault.message);
      throw fault;
    }
  },
};
