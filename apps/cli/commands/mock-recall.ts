import { beginMockRecall, closeMockRecall, runMockRecall } from '#libs/actions/practice/mock-recall.js';
import { invalid } from '#libs/actions/record/problem.js';
import { catalogueEntry } from '../catalogue.js';
import { type Command, optionText } from '../command.js';

/**
 * With `--begin` it picks a jar and starts the clock; a person counts the shelf, and `--of ID --on-shelf N` closes it.
 * Without them it is traced and closed at once, and the result says that nobody counted.
 */
const run: Command['run'] = async (cli) => {
  const [mockRecallId, countedOnShelf] = [optionText(cli, 'of'), optionText(cli, 'on-shelf')];
  if (cli.options['begin'] === true) {
    const begun = await beginMockRecall(await cli.book(), cli.writeContext);
    if ('problem' in begun) return begun;
    const { id, jar, lot } = begun;
    return {
      json: { id, jar, lot },
      lines: [
        `${id}: jar ${jar} of ${lot}. Trace it and count the lot’s jars on the shelf. Then run:`,
        `  book practise --of ${id} --on-shelf N`,
      ],
    };
  }
  if (countedOnShelf !== undefined && !/^\d{1,6}$/.test(countedOnShelf))
    return invalid('on-shelf', 'a whole number like 24', `"${countedOnShelf}"`);
  if (countedOnShelf !== undefined && mockRecallId === undefined)
    return invalid('of', 'the id that practise --begin printed', 'nothing');
  const outcome =
    mockRecallId === undefined
      ? await runMockRecall(await cli.book(), cli.writeContext)
      : await closeMockRecall(
          await cli.book(),
          cli.writeContext,
          mockRecallId,
          countedOnShelf === undefined ? undefined : Number(countedOnShelf),
        );
  if ('problem' in outcome) return outcome;
  const { jar, trace, milliseconds, result, recorded } = outcome;
  return {
    json: {
      jar,
      lot: trace.pack,
      boils: trace.boils,
      gatherings: trace.gatherings,
      jars: trace.jars,
      dispatches: trace.dispatches,
      milliseconds,
      result,
      entry: recorded.entry,
    },
    lines: [
      `Jar ${jar} of ${trace.pack}, traced in ${milliseconds} ms.`,
      result,
      ...trace.dispatches.map((each) => `  ${each.jars} to ${each.to}, ${each.sentAt.slice(0, 10)}`),
    ],
  };
};

const options = { begin: 'flag', of: 'text', 'on-shelf': 'text' } as const;
const optionHelp = {
  begin: 'Picks a jar and starts the clock.',
  of: 'The id that --begin printed.',
  'on-shelf': 'How many jars of the lot a person counted on the shelf.',
};

export const practise: Command = { ...catalogueEntry('practise'), options, optionHelp, run };
/** The usual term of the trade. */
export const mockRecall: Command = { ...catalogueEntry('mock-recall'), options, optionHelp, run };
