import { practiseRecall } from '#libs/actions/practice/mock-recall.js';
import { described } from '../catalogue.js';
import type { Command } from '../command.js';

const run: Command['run'] = async (bench) => {
  const practised = await practiseRecall(await bench.book(), bench.desk);
  if ('problem' in practised) return practised;
  const { jar, trace, milliseconds, result, recorded } = practised;
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
      `Jar ${jar} of ${trace.pack}, in ${milliseconds} ms.`,
      result,
      ...trace.dispatches.map((each) => `  ${each.jars} to ${each.to}, ${each.sentAt.slice(0, 10)}`),
    ],
  };
};

export const practise: Command = { ...described('practise'), run };
/** The trade's usual word for it. */
export const mockRecall: Command = { ...described('mock-recall'), run };
