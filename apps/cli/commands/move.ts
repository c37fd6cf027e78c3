import { join } from 'node:path';
import { invalid, refused } from '#libs/actions/record/problem.js';
import { openBook } from '#libs/store/book.js';
import { copyBook } from '#libs/store/backup/copy-book.js';
import { readHead } from '#libs/store/log/log.js';
import { catalogueEntry } from '../catalogue.js';
import type { Command } from '../command.js';

/** Copies the book to the other engine; the original stays unchanged. */
export const move: Command = {
  ...catalogueEntry('move'),
  run: async (cli) => {
    const [where] = cli.argv;
    if (where === undefined || cli.argv.length > 1)
      return invalid('where', 'postgres://… or a folder', cli.argv.join(' ') || 'nothing');
    const from = await cli.book();
    const to = await openBook(
      /^postgres(ql)?:\/\//.test(where) ? { url: where } : { file: join(where, 'book.sqlite') },
    );
    try {
      const copied = await copyBook(from, to);
      if ('problem' in copied)
        return refused(
          'not-empty',
          'The book there already has entries: nothing was copied. Choose an empty database or folder.',
        );
      const head = await readHead(to.read);
      return {
        json: head,
        lines: [
          `Copied: ${head.entries} entries, root ${head.root}. The old book is unchanged; set BOILBOOK_DATA or BOILBOOK_DATABASE_URL to use the new one.`,
        ],
      };
    } finally {
      await to.close();
    }
  },
};
