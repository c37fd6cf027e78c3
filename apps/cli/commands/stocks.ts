import { invalid } from '#libs/actions/record/problem.js';
import { lastUsed } from '#libs/actions/labels/stock-last-used.js';
import { labelsPerPage } from '#libs/labels/stocks/stocks.js';
import { stocksOf } from '#libs/actions/labels/stocks-of.js';
import { described } from '../catalogue.js';
import { type Command, optionText } from '../command.js';
import { documentMeaning, documentOptions, endingProblem, nameOf, writtenFile } from '../written-file.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export const stocks: Command = {
  ...described('stocks'),
  options: documentOptions,
  meaning: documentMeaning,
  run: async (bench) => {
    const book = await bench.book();
    const all = await stocksOf(sugarhouseReader(book.read, bench.writeContext.sugarhouse));
    const [name] = bench.argv;
    const out = optionText(bench, 'out');
    if (name === undefined && out === undefined)
      return {
        json: all,
        lines: all.map((stock) => `${stock.name.padEnd(24)} ${labelsPerPage(stock)} a page  ${stock.words}`),
      };
    const stock = all.find((each) => each.name === name);
    if (!stock || bench.argv.length > 1)
      return invalid(
        'stock',
        `one of ${all.map((each) => each.name).join(', ')}`,
        bench.argv.length > 0 ? `"${bench.argv.join(' ')}"` : 'nothing',
      );
    const wrong = await endingProblem(out ?? '', ['.pdf']);
    if (wrong) return wrong;
    const used = await lastUsed(sugarhouseReader(book.read, bench.writeContext.sugarhouse), stock.name);
    const nudge = used && { rightMm: used.rightTenths / 10, downMm: used.downTenths / 10 };
    const { drawAlignmentSheet } = await import('#libs/labels/layout/alignment-sheet.js');
    await writtenFile(bench, (file) => drawAlignmentSheet({ stock, nudge, createdAt: bench.now }, file));
    return {
      json: { file: out, stock: stock.name },
      lines: [
        `${nameOf(out ?? '')}: the alignment sheet of ${stock.name}. Hold it behind the labels against the light.`,
      ],
    };
  },
};
