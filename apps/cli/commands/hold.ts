import type { AuthorityConsultation } from '#libs/actions/lots/authority-consultation.js';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { invalid } from '#libs/actions/record/problem.js';
import { catalogueEntry } from '../catalogue.js';
import { type CommandContext, type Command, optionText } from '../command.js';

const statusCommand = (name: 'hold' | 'release', changeStatus: typeof releaseLot, participle: string): Command => ({
  ...catalogueEntry(name),
  options: { why: 'text', ...(name === 'release' ? consultationOptions : {}) },
  optionHelp:
    name === 'release' ? { why: 'Why the lot may be released.', ...consultationHelp } : { why: 'Why the lot is held.' },
  run: async (cli: CommandContext) => {
    const [lot] = cli.argv;
    if (lot === undefined || cli.argv.length > 1)
      return invalid('lot', 'one lot code like 26077A-1', cli.argv.join(' ') || 'nothing');
    const changed = await changeStatus(
      await cli.book(),
      cli.writeContext,
      lot,
      optionText(cli, 'why') ?? '',
      consultationFrom(cli),
    );
    if ('problem' in changed) return changed;
    const others = changed.packs.filter((pack) => pack !== changed.lot);
    return {
      json: changed,
      lines: [
        `Entry ${changed.entry}: ${changed.lot} is ${participle}${others.length > 0 ? `, and so ${others.length === 1 ? 'is' : 'are'} ${others.join(', ')}` : ''}.`,
      ],
    };
  },
});

/** The command line acts for the owner of the machine. */
const consultationFrom = (cli: CommandContext): AuthorityConsultation => ({
  authority: optionText(cli, 'authority'),
  askedAt: optionText(cli, 'asked'),
  answer: optionText(cli, 'answer'),
  byOwner: true,
});
const consultationOptions = { authority: 'text', asked: 'text', answer: 'text' } as const;
const consultationHelp = {
  authority: 'Only for products other than maple syrup: the authority you asked.',
  asked: 'The date you asked, for example 2026-04-02.',
  answer: 'Its answer.',
};

export const hold = statusCommand('hold', holdLot, 'held');
export const release = statusCommand('release', releaseLot, 'released');
