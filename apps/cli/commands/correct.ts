import { correctEntry } from '#libs/actions/record/correct-entry.js';
import { invalid } from '#libs/actions/record/problem.js';
import { catalogueEntry } from '../catalogue.js';
import { type Command, optionText } from '../command.js';

export const correct: Command = {
  ...catalogueEntry('correct'),
  options: { why: 'text' },
  optionHelp: { why: 'The reason, kept in the history.' },
  run: async (cli) => {
    const [entry, ...changes] = cli.argv;
    if (entry === undefined) return invalid('entry', 'the number of an entry, or a lot code', 'nothing');
    const pairs = changes.map((each) => /^([A-Za-z][A-Za-z_-]*)=([\s\S]*)$/.exec(each));
    const invalidChange = changes.find((_, index) => !pairs[index]);
    if (invalidChange !== undefined || pairs.length === 0)
      return invalid(
        'field',
        'FIELD=VALUE like fill_temps=186 F',
        invalidChange === undefined ? 'nothing' : `"${invalidChange}"`,
      );
    const values = Object.fromEntries(pairs.map((pair) => [pair?.[1] ?? '', pair?.[2] ?? '']));
    const corrected = await correctEntry(
      await cli.book(),
      cli.writeContext,
      entry,
      optionText(cli, 'why') ?? '',
      values,
    );
    if ('problem' in corrected) return corrected;
    const lines =
      corrected.outcome === 'same'
        ? [`${corrected.id} already has these values: nothing was saved.`]
        : [`Entry ${corrected.entry}: corrected ${corrected.id}.`];
    return { json: corrected, lines, warnings: corrected.notes };
  },
};
