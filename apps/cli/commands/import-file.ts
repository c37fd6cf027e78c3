import { readFile } from 'node:fs/promises';
import { importRows } from '#libs/actions/import/import-rows.js';
import { fileKinds } from '#libs/actions/kinds/registry.js';
import { invalid, limitSentences, unknown } from '#libs/actions/record/problem.js';
import { catalogueEntry } from '../catalogue.js';
import { type Command, optionText } from '../command.js';

export const importFile: Command = {
  ...catalogueEntry('import'),
  options: { 'dry-run': 'flag', correct: 'text' },
  optionHelp: {
    'dry-run': 'Checks the file and says what would be saved; saves nothing.',
    correct: 'Corrects records that differ from the file; TEXT is the reason, kept in the history.',
  },
  run: async (cli) => {
    const [kindName = '', path = ''] = cli.argv;
    const kind = fileKinds.find((each) => each.plural === kindName.toLowerCase());
    if (!kind)
      return invalid(
        'kind',
        `one of ${fileKinds.map((each) => each.plural).join(', ')}`,
        kindName ? `"${kindName}"` : 'nothing',
      );
    if (path === '' || cli.argv.length > 2)
      return invalid('file', 'one file like gatherings.csv', path === '' ? 'nothing' : cli.argv.slice(1).join(' '));
    const correct = optionText(cli, 'correct');
    if (correct === '') return invalid('correct', 'the reason for the correction, in words', 'nothing');
    const bytes = await readFile(path).catch((fault: NodeJS.ErrnoException) => fault);
    if (!(bytes instanceof Uint8Array)) return unknown('file', `${path} (${bytes.code ?? bytes.message})`);
    const dryRun = cli.options['dry-run'] === true;
    const imported = await importRows(await cli.book(), { ...cli.writeContext, from: 'file' }, kind, bytes, {
      dryRun,
      why: correct,
    });
    if (imported.faultCount > 0)
      return { problem: { kind: 'invalid', faults: imported.faults, inAll: imported.faultCount } };
    const [refusal] = imported.refusals;
    if (refusal)
      return {
        problem: {
          kind: 'refused',
          rule: 'import',
          sentence: limitSentences(
            imported.refusals.map((each) => `Line ${each.line}: ${each.sentence}`),
            imported.refusalCount,
          ).join('\n'),
        },
      };
    const { rows, written, corrected, same, ids } = imported;
    const would = dryRun ? 'would be ' : '';
    return {
      json: { kind: kind.plural, rows, written, corrected, same, ids, dryRun, notes: imported.notes },
      lines: [
        `${rows} ${rows === 1 ? kind.noun : kind.plural}: ${written} ${would}saved, ${corrected} ${would}corrected, ${same} already recorded.`,
        ...(dryRun ? ['Dry run: nothing was saved.'] : []),
      ],
      warnings: imported.notes,
    };
  },
};
