import type { LabelRequest } from '#libs/actions/labels/plan-labels.js';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import { type DesignName, designLabels, type PrinterDpi } from '#libs/labels/content/label.js';
import { type ColourName, labelColours, type TypefaceName, typefaceLabels } from '#libs/labels/content/label-look.js';
import { catalogueEntry } from '../catalogue.js';
import { type CommandContext, type Command, optionText } from '../command.js';
import {
  documentOptionHelp,
  documentOptions,
  refuseWrongEnding,
  documentName,
  writeDocument,
} from '../write-document.js';

export const labels: Command = {
  ...catalogueEntry('labels'),
  options: {
    stock: 'text',
    ...documentOptions,
    from: 'text',
    to: 'text',
    skip: 'text',
    dpi: 'text',
    design: 'text',
    typeface: 'text',
    colour: 'text',
    right: 'text',
    down: 'text',
    'text-symbol': 'flag',
    gtin: 'text',
  },
  optionHelp: {
    ...documentOptionHelp,
    stock: 'A label stock that book stocks lists. If left out, the one last printed on.',
    from: 'The first jar. If left out, 1.',
    to: 'The last jar. If left out, the last of the pack.',
    skip: 'Number of labels already used on the first sheet.',
    dpi: 'Resolution of the printer in dots per inch: 203, 300 or 600.',
    design: `Layout: ${Object.keys(designLabels).join(', ')}. If left out, the one of book setup, else one that fits the container.`,
    typeface: `Typeface of the name and the product: ${Object.keys(typefaceLabels).join(', ')}.`,
    colour: `Colour, for a colour printer: ${Object.keys(labelColours).join(', ')}.`,
    right: 'Moves the print to the right, in mm. If left out, as last time on this stock.',
    down: 'Moves the print down, in mm. If left out, as last time on this stock.',
    'text-symbol': 'The QR code contains the lot, date, maker and telephone instead of a link.',
    gtin: 'Your own GTIN; the QR code is then a GS1 Digital Link.',
  },
  run: async (cli) => {
    const [code] = cli.argv;
    if (code === undefined || cli.argv.length > 1)
      return invalid('lot', 'one lot code like 26077A-1', cli.argv.join(' ') || 'nothing');
    const out = optionText(cli, 'out') ?? '';
    const request = (await refuseWrongEnding(out, ['.pdf'])) ?? labelRequest(cli, code);
    if ('problem' in request) return request;
    const { printLabels } = await import('#libs/actions/labels/print-labels.js');
    const printed = await printLabels(await cli.book(), cli.writeContext, request, (draw) => writeDocument(cli, draw));
    if ('problem' in printed) return printed;
    const { lot, from, to, jars, labels, pages, endedAt, reprinted, run } = printed;
    return {
      json: {
        lot: lot.code,
        stock: run.stock.name,
        from,
        to,
        leftOut: jars.leftOut,
        labels,
        pages,
        endedAt,
        reprinted,
        file: out,
        address: run.symbol.kind === 'text' ? null : run.symbol.address,
      },
      lines: [
        `${documentName(out)}: ${labels} labels of ${lot.code}, jars ${from} to ${to}, on ${pages} ${pages === 1 ? 'page' : 'pages'}.`,
      ],
      warnings: printed.warnings,
    };
  },
};

function labelRequest(cli: CommandContext, lot: string): LabelRequest | Refusal {
  const numbers: Partial<Record<'from' | 'to' | 'skip' | 'dpi' | 'right' | 'down', number>> = {};
  for (const name of ['from', 'to', 'skip', 'dpi'] as const) {
    const text = optionText(cli, name);
    if (text === undefined) continue;
    if (!/^\d{1,7}$/.test(text)) return invalid(name, 'a whole number', `"${text}"`);
    numbers[name] = Number(text);
  }
  for (const name of ['right', 'down'] as const) {
    const text = optionText(cli, name);
    if (text === undefined) continue;
    if (!Number.isFinite(Number(text))) return invalid(name, 'millimetres, like 0.5', `"${text}"`);
    numbers[name] = Number(text);
  }
  const design = optionText(cli, 'design');
  if (design !== undefined && !(design in designLabels))
    return invalid('design', `one of ${Object.keys(designLabels).join(', ')}`, `"${design}"`);
  const typeface = optionText(cli, 'typeface');
  if (typeface !== undefined && !(typeface in typefaceLabels))
    return invalid('typeface', `one of ${Object.keys(typefaceLabels).join(', ')}`, `"${typeface}"`);
  const colour = optionText(cli, 'colour');
  if (colour !== undefined && !(colour in labelColours))
    return invalid('colour', `one of ${Object.keys(labelColours).join(', ')}`, `"${colour}"`);
  return {
    lot,
    stock: optionText(cli, 'stock'),
    from: numbers.from,
    to: numbers.to,
    skip: numbers.skip,
    rightMm: numbers.right,
    downMm: numbers.down,
    dpi: numbers.dpi as PrinterDpi | undefined,
    design: design as DesignName | undefined,
    typeface: typeface as TypefaceName | undefined,
    colour: colour as ColourName | undefined,
    symbol: cli.options['text-symbol'] === true ? 'text' : undefined,
    gtin: optionText(cli, 'gtin'),
    publicUrl: cli.settings.publicUrl,
  };
}
