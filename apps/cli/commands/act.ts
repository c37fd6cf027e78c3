import { ruleTitle } from '#libs/syrup/rules/rules.js';
import { actionFields, actions } from '#libs/actions/kinds/corrective-action.js';
import { invalid } from '#libs/actions/record/problem.js';
import { record } from '#libs/actions/record/record.js';
import { findLot } from '#libs/store/queries/lots.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { catalogueEntry } from '../catalogue.js';
import type { Command } from '../command.js';
import { fieldHelp, fieldOptions, typedFields } from '../field-options.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export const act: Command = {
  ...catalogueEntry('act'),
  options: fieldOptions(actionFields, ['lot', 'by']),
  optionHelp: fieldHelp(actionFields),
  run: async (cli) => {
    const [lot] = cli.argv;
    if (lot === undefined || cli.argv.length > 1)
      return invalid('lot', 'one lot code like 26077A-1', cli.argv.join(' ') || 'nothing');
    const book = await cli.book();
    const recorded = await record(book, cli.writeContext, actions, { ...typedFields(cli, actionFields), lot });
    if ('problem' in recorded) return recorded;
    const actedLot =
      (await findRecord(sugarhouseReader(book.read, cli.writeContext.sugarhouse), 'action', recorded.id))?.lot ?? lot;
    const current = await findLot(sugarhouseReader(book.read, cli.writeContext.sugarhouse), actedLot);
    const stops = current?.verdict?.findings.filter((finding) => finding.stop) ?? [];
    return {
      json: { ...recorded, lot: actedLot, status: current?.state, findings: current?.verdict?.findings ?? [] },
      lines: [
        `Entry ${recorded.entry}: corrective action on ${actedLot}, which is now ${current?.state}.`,
        ...recorded.notes.map((note) => `  ${note}`),
        ...stops.map((stop) => `  still held: ${ruleTitle(stop.rule)}: found ${stop.found}; limit ${stop.limit}`),
        ...(stops.length === 0 && current?.state === 'held'
          ? [`  no hold rule applies any more: release it with book release ${actedLot} --why TEXT`]
          : []),
      ],
    };
  },
};
