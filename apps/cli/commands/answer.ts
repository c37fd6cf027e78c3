import { answers } from '#libs/actions/kinds/answer.js';
import { invalid } from '#libs/actions/record/problem.js';
import { record } from '#libs/actions/record/record.js';
import { findLot } from '#libs/store/queries/lots.js';
import { catalogueEntry } from '../catalogue.js';
import { type Command, optionText } from '../command.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export const answer: Command = {
  ...catalogueEntry('answer'),
  options: { question: 'text', note: 'text' },
  optionHelp: {
    question: 'The question, worded as in the finding. If left out, every open question of the lot.',
    note: 'What was seen on inspection.',
  },
  run: async (cli) => {
    const [lot, reply, ...more] = cli.argv;
    if (lot === undefined || reply === undefined || more.length > 0)
      return invalid('lot', 'a lot code and an answer, like 26077A-1 no', cli.argv.join(' ') || 'nothing');
    const book = await cli.book();
    const sent = {
      lot,
      answer: reply,
      question: optionText(cli, 'question') ?? '',
      note: optionText(cli, 'note') ?? '',
    };
    const recorded = await record(book, cli.writeContext, answers, sent);
    if ('problem' in recorded) return recorded;
    const current = await findLot(sugarhouseReader(book.read, cli.writeContext.sugarhouse), lot);
    return {
      json: { ...recorded, lot, status: current?.state, findings: current?.verdict?.findings ?? [] },
      lines: [`Entry ${recorded.entry}: answered ${reply}. ${lot} is now ${current?.state ?? 'not known'}.`],
    };
  },
};
