import { practiseRecall } from '#libs/actions/practise.js';
import type { Command } from '../command.js';

export const practise: Command = {
  name: 'practise',
  usage: '',
  says: 'A practice recall: a jar drawn at random, traced both ways, its balance closed, the result on the record.',
  run: async (bench) => {
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
  },
};
