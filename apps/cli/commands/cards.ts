import { isLotCardName, type LotCardName, lotCardNames } from '#libs/labels/content/lot-card-names.js';
import { invalid } from '#libs/actions/record/problem.js';
import { catalogueEntry } from '../catalogue.js';
import { type Command, optionText } from '../command.js';
import {
  documentOptionHelp,
  documentOptions,
  refuseWrongEnding,
  documentName,
  writeDocument,
} from '../write-document.js';

const names = Object.keys(lotCardNames) as LotCardName[];

export const cards: Command = {
  ...catalogueEntry('cards'),
  options: { card: 'text', ...documentOptions },
  optionHelp: { ...documentOptionHelp, card: names.map((name) => `${name}: ${lotCardNames[name]}`).join('; ') },
  run: async (cli) => {
    const [code] = cli.argv;
    if (code === undefined || cli.argv.length > 1)
      return invalid('lot', 'one lot code like 26077A-1', cli.argv.join(' ') || 'nothing');
    const card = optionText(cli, 'card') ?? '';
    if (!isLotCardName(card)) return invalid('card', `one of ${names.join(', ')}`, card ? `"${card}"` : 'nothing');
    const out = optionText(cli, 'out') ?? '';
    const fault = await refuseWrongEnding(out, ['.pdf']);
    if (fault) return fault;
    const { planLotCards } = await import('#libs/actions/labels/lot-cards.js');
    const book = await cli.book();
    const found = await planLotCards(book.read, cli.writeContext, code, card);
    if ('problem' in found) return found;
    const drawn = await writeDocument(cli, found.draw);
    if ('problem' in drawn) return drawn;
    const pages = `${drawn.pages} ${drawn.pages === 1 ? 'page' : 'pages'}`;
    return {
      json: { lot: found.lot, card, pages: drawn.pages, file: out },
      lines: [`${documentName(out)}: ${lotCardNames[card]}, of ${found.lot}, on ${pages}.`],
    };
  },
};
