import { acknowledgements } from '#libs/actions/kinds/acknowledgement.js';
import { invalid } from '#libs/actions/record/problem.js';
import { record } from '#libs/actions/record/record.js';
import { catalogueEntry } from '../catalogue.js';
import { type Command, optionText } from '../command.js';

/** Adds a maker's initials (--by) to a dispatch that was reported after the jars had left. */
export const acknowledge: Command = {
  ...catalogueEntry('acknowledge'),
  options: { note: 'text' },
  optionHelp: { note: 'What is being done about it.' },
  run: async (cli) => {
    const [dispatch] = cli.argv;
    if (dispatch === undefined || cli.argv.length > 1)
      return invalid('dispatch', 'the id of one dispatch, like S0104', cli.argv.join(' ') || 'nothing');
    const done = await record(await cli.book(), cli.writeContext, acknowledgements, {
      dispatch,
      note: optionText(cli, 'note') ?? '',
    });
    if ('problem' in done) return done;
    return { json: done, lines: [`Entry ${done.entry}: dispatch ${dispatch} acknowledged by ${cli.writeContext.by}.`] };
  },
};
