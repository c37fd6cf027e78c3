import type { AuthorityConsultation } from '#libs/actions/lots/authority-consultation.js';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { invalid } from '#libs/actions/record/problem.js';
import { described } from '../catalogue.js';
import { type CommandContext, type Command, optionText } from '../command.js';

const mark = (name: 'hold' | 'release', entryType: typeof releaseLot, past: string): Command => ({
  ...described(name),
  options: { why: 'text', ...(name === 'release' ? askedOptions : {}) },
  ...(name === 'release' ? { meaning: askedMeaning } : {}),
  run: async (cli: CommandContext) => {
    const [lot] = cli.argv;
    if (lot === undefined || cli.argv.length > 1)
      return invalid('lot', 'one lot code like 26077A-1', cli.argv.join(' ') || 'nothing');
    const marked = await entryType(await cli.book(), cli.writeContext, lot, optionText(cli, 'why') ?? '', askedBy(cli));
    if ('problem' in marked) return marked;
    const others = marked.packs.filter((pack) => pack !== marked.lot);
    return {
      json: marked,
      lines: [
        `${marked.lot} ${past}${others.length > 0 ? `, and with it ${others.join(', ')}` : ''}. Entry ${marked.entry}.`,
      ],
    };
  },
});

/** The command line acts for the owner of the machine. */
const askedBy = (cli: CommandContext): AuthorityConsultation => ({
  authority: optionText(cli, 'authority'),
  askedAt: optionText(cli, 'asked'),
  answer: optionText(cli, 'answer'),
  byOwner: true,
});
const askedOptions = { authority: 'text', asked: 'text', answer: 'text' } as const;
const askedMeaning = {
  authority: 'for jars that hold anything but syrup: who was asked',
  asked: 'when they were asked, such as 2026-04-02',
  answer: 'what they answered',
};

export const hold = mark('hold', holdLot, 'is held');
export const release = mark('release', releaseLot, 'is released');
