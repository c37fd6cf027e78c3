import { voidEntry } from '#libs/actions/record/void-entry.js';
import { invalid } from '#libs/actions/record/problem.js';
import { catalogueEntry } from '../catalogue.js';
import { type Command, optionText } from '../command.js';

export const voidCommand: Command = {
  ...catalogueEntry('void'),
  options: { why: 'text' },
  optionHelp: { why: 'The reason, kept in the history.' },
  run: async (cli) => {
    const [entry] = cli.argv;
    if (entry === undefined || cli.argv.length > 1)
      return invalid(
        'entry',
        'the number of an entry, a lot code or the id of a record',
        cli.argv.join(' ') || 'nothing',
      );
    const done = await voidEntry(await cli.book(), cli.writeContext, entry, optionText(cli, 'why') ?? '');
    if ('problem' in done) return done;
    return { json: done, lines: [`Entry ${done.entry}: voided ${done.id}. The log keeps what was recorded.`] };
  },
};
