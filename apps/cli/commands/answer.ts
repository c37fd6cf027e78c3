import { answers } from '#libs/actions/kinds/answer.js';
import { invalid } from '#libs/actions/record/problem.js';
import { record } from '#libs/actions/record/record.js';
import { findLot } from '#libs/store/queries/lots.js';
import { described } from '../catalogue.js';
import { type Command, optionText } from '../command.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export const answer: Command = {
  ...described('answer'),
  options: { question: 'text', note: 'text' },
  meaning: { question: 'as the finding says it; without it all that are asked of the lot' },
  run: async (bench) => {
    const [lot, output, ...more] = bench.argv;
    if (lot === undefined || output === undefined || more.length > 0)
      return invalid('lot', 'a lot code and an answer, like 26077A-1 no', bench.argv.join(' ') || 'nothing');
    const book = await bench.book();
    const sent = {
      lot,
      answer: output,
      question: optionText(bench, 'question') ?? '',
      note: optionText(bench, 'note') ?? '',
    };
    const recorded = await record(book, bench.writeContext, answers, sent);
    if ('problem' in recorded) return recorded;
    const now = await findLot(sugarhouseReader(book.read, bench.writeContext.sugarhouse), lot);
    return {
      json: { ...recorded, lot, status: now?.state, findings: now?.verdict?.findings ?? [] },
      lines: [`Entry ${recorded.entry}: answered ${output}. ${lot} is ${now?.state ?? 'not known'}.`],
    };
  },
};
