import { titleOf } from '#libs/syrup/rules/rules.js';
import { actionFields, actions } from '#libs/actions/kinds/corrective-action.js';
import { invalid } from '#libs/actions/record/problem.js';
import { record } from '#libs/actions/record/record.js';
import { findLot } from '#libs/store/queries/lots.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { described } from '../catalogue.js';
import type { Command } from '../command.js';
import { fieldMeaning, fieldOptions, fieldsTyped } from '../field-options.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export const act: Command = {
  ...described('act'),
  options: fieldOptions(actionFields, ['lot', 'by']),
  meaning: fieldMeaning(actionFields),
  run: async (cli) => {
    const [lot] = cli.argv;
    if (lot === undefined || cli.argv.length > 1)
      return invalid('lot', 'one lot code like 26077A-1', cli.argv.join(' ') || 'nothing');
    const book = await cli.book();
    const recorded = await record(book, cli.writeContext, actions, { ...fieldsTyped(cli, actionFields), lot });
    if ('problem' in recorded) return recorded;
    const about =
      (await findRecord(sugarhouseReader(book.read, cli.writeContext.sugarhouse), 'action', recorded.id))?.lot ?? lot;
    const now = await findLot(sugarhouseReader(book.read, cli.writeContext.sugarhouse), about);
    const stops = now?.verdict?.findings.filter((finding) => finding.stop) ?? [];
    return {
      json: { ...recorded, lot: about, status: now?.state, findings: now?.verdict?.findings ?? [] },
      lines: [
        `Entry ${recorded.entry}: corrective action on ${about}, which is now ${now?.state}.`,
        ...recorded.notes.map((note) => `  ${note}`),
        ...stops.map((stop) => `  still held: ${titleOf(stop.rule)}: found ${stop.found}; limit ${stop.limit}`),
        ...(stops.length === 0 && now?.state === 'held'
          ? [`  no hold rule applies any more: release it with book release ${about} --why TEXT`]
          : []),
      ],
    };
  },
};
