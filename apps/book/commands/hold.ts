import { holdLot, releaseLot } from '#libs/actions/mark-lots.js';
import { invalid } from '#libs/actions/problem.js';
import { type Bench, type Command, optionText } from '../command.js';

const mark = (name: 'hold' | 'release', says: string, deed: typeof holdLot, past: string): Command => ({
  name,
  usage: 'LOT --why TEXT',
  says,
  options: { why: 'text' },
  run: async (bench: Bench) => {
    const [lot] = bench.words;
    if (lot === undefined || bench.words.length > 1)
      return invalid('lot', 'one lot code like 26077A-1', bench.words.join(' ') || 'nothing');
    const marked = await deed(await bench.book(), bench.desk, lot, optionText(bench, 'why') ?? '');
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

export const hold = mark('hold', 'Holds a lot and all that its syrup went into.', holdLot, 'is held');
export const release = mark('release', 'Lets a held lot go, once nothing stops it any more.', releaseLot, 'is let go');
