import { withArticle } from '#libs/format/with-article.js';
import { fileKinds, kindByName } from '#libs/actions/kinds/registry.js';
import type { Kind } from '#libs/actions/record/kind.js';
import { invalid } from '#libs/actions/record/problem.js';
import { record } from '#libs/actions/record/record.js';
import { catalogueEntry } from '../catalogue.js';
import type { Command } from '../command.js';
import { fieldHelp, fieldOptions, typedFields } from '../field-options.js';

/** The kinds that the command line records: those that files may hold, boil log lines, disposals and label stocks. */
const kinds: readonly (readonly [string, Kind])[] = [
  ...fileKinds.map((kind) => [kind.kind, kind] as const),
  ...(
    [
      ['line', 'line'],
      ['disposal', 'spent'],
      ['label-stock', 'stock'],
    ] as const
  ).flatMap(([name, kind]) => {
    const found = kindByName.get(kind);
    return found ? [[name, found] as const] : [];
  }),
];

const recordKind = (name: string, kind: Kind): Command => ({
  name: `record ${name}`,
  usage: Object.entries(fieldOptions(kind.fields, ['by']))
    .map(([option]) => `[--${option} …]`)
    .join(' '),
  summary: `Records ${withArticle(kind.noun)}.`,
  options: fieldOptions(kind.fields, ['by']),
  optionHelp: fieldHelp(kind.fields),
  run: async (cli) => {
    if (cli.argv.length > 0) return invalid('fields', 'only options, as --help lists them', cli.argv.join(' '));
    const fields = typedFields(cli, kind.fields);
    // BOILBOOK_BY counts like --by; without either, a kind that needs initials is refused.
    const initials = cli.terminal.env['BOILBOOK_BY']?.trim();
    if ('by' in kind.fields && initials) fields['by'] ??= initials;
    const recorded = await record(await cli.book(), cli.writeContext, kind, fields);
    if ('problem' in recorded) return recorded;
    return {
      json: recorded,
      lines: [`Entry ${recorded.entry}: ${kind.noun} ${recorded.id}.`],
      warnings: recorded.notes,
    };
  },
});

const names = kinds.map(([name]) => name).join(', ');

/** One command for each kind, and one that lists the kinds. */
export const recordCommands: readonly Command[] = [
  ...kinds.map(([name, kind]) => recordKind(name, kind)),
  {
    ...catalogueEntry('record'),
    run: (cli) => Promise.resolve(invalid('kind', `one of ${names}`, cli.argv[0] ? `"${cli.argv[0]}"` : 'nothing')),
  },
];
