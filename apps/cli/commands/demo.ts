import { writePracticeSeason } from '#libs/actions/practice/practice-season.js';
import { readHead } from '#libs/store/log/log.js';
import { catalogueEntry } from '../catalogue.js';
import type { Command } from '../command.js';

export const demo: Command = {
  ...catalogueEntry('demo'),
  run: async (cli) => {
    const book = await cli.book();
    const written = await writePracticeSeason(book, cli.now);
    if ('problem' in written) return written;
    const head = await readHead(book.read);
    return {
      json: { ...head, practice: true },
      lines: [`Practice season written: ${head.entries} entries, all invented.`],
    };
  },
};
