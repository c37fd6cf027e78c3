import { invalid } from '#libs/actions/record/problem.js';
import { findStockLastUsed } from '#libs/actions/labels/stock-last-used.js';
import { labelsPerPage } from '#libs/labels/stocks/stocks.js';
import { loadStocksInUse } from '#libs/actions/labels/label-stocks.js';
import { catalogueEntry } from '../catalogue.js';
import { type Command, optionText } from '../command.js';
import {
  documentOptionHelp,
  documentOptions,
  refuseWrongEnding,
  documentName,
  writeDocument,
} from '../write-document.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export const stocks: Command = {
  ...catalogueEntry('stocks'),
  options: documentOptions,
  optionHelp: documentOptionHelp,
  run: async (cli) => {
    const book = await cli.book();
    const all = await loadStocksInUse(sugarhouseReader(book.read, cli.writeContext.sugarhouse));
    const [name] = cli.argv;
    const out = optionText(cli, 'out');
    if (name === undefined && out === undefined)
      return {
        json: all,
        lines: all.map((stock) => `${stock.name.padEnd(24)} ${labelsPerPage(stock)} a page  ${stock.words}`),
      };
    const stock = all.find((each) => each.name === name);
    if (!stock || cli.argv.length > 1)
      return invalid(
        'stock',
        `one of ${all.map((each) => each.name).join(', ')}`,
        cli.argv.length > 0 ? `"${cli.argv.join(' ')}"` : 'nothing',
      );
    const fault = await refuseWrongEnding(out ?? '', ['.pdf']);
    if (fault) return fault;
    const lastUse = await findStockLastUsed(sugarhouseReader(book.read, cli.writeContext.sugarhouse), stock.name);
    const nudge = lastUse && { rightMm: lastUse.rightTenths / 10, downMm: lastUse.downTenths / 10 };
    const { drawAlignmentSheet } = await import('#libs/labels/layout/alignment-sheet.js');
    await writeDocument(cli, (file) => drawAlignmentSheet({ stock, nudge, createdAt: cli.now }, file));
    return {
      json: { file: out, stock: stock.name },
      lines: [
        `${documentName(out ?? '')}: alignment sheet of ${stock.name}. Print it on plain paper and hold it behind a sheet of labels against the light.`,
      ],
    };
  },
};
