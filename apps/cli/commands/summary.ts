import { extname } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import { seasonDocument, seasonFormats } from '#libs/actions/season/season-document.js';
import { seasonSummary } from '#libs/reports/season/json.js';
import { syrupMillilitres } from '#libs/reports/season/totals.js';
import { many } from '#libs/format/format.js';
import { formatSeasonVolume } from '#libs/format/format-volume.js';
import { catalogueEntry } from '../catalogue.js';
import { type Command, optionText } from '../command.js';
import { documentOptionHelp, documentOptions, documentName, requestedPaper, writeDocument } from '../write-document.js';

export const summary: Command = {
  ...catalogueEntry('summary'),
  options: { ...documentOptions, format: 'text', paper: 'text', 'lot-pages': 'flag' },
  optionHelp: {
    ...documentOptionHelp,
    format:
      'Format: pdf, xlsx, csv, json or jsonld. Needed where the file name has no such ending, and for standard output.',
    paper: 'Paper of the PDF: letter or a4. If left out, the usual one of the place.',
    'lot-pages': 'Adds a page for each lot, with every reading, to the PDF.',
  },
  run: async (cli) => {
    const [year] = cli.argv;
    if (year === undefined || !/^20\d\d$/.test(year) || cli.argv.length > 1)
      return invalid('year', 'one year like 2026', cli.argv.join(' ') || 'nothing');
    const out = optionText(cli, 'out') ?? '';
    const format = requestedFormat(out, optionText(cli, 'format'));
    if ('problem' in format) return format;
    const paper = requestedPaper(cli, `.${format.name}`);
    if ('problem' in paper) return paper;
    // The server draws a document under a heap limit, by which V8 collects earlier; here that can't be set any more.
    setFlagsFromString(`--heap-growing-percent=${heapGrowth}`);
    const document = await seasonDocument(await cli.book(), cli.writeContext, {
      year,
      format: format.name,
      base: cli.settings.publicUrl,
      paper: paper.name,
      lotPages: cli.options['lot-pages'] === true,
    });
    if ('problem' in document) return document;
    await writeDocument(cli, document.write);
    const { season } = document;
    const { totals, record, lots } = seasonSummary(season);
    return {
      json: { file: out, year: season.year, totals, record },
      lines: [
        `${documentName(out)}: ${many(totals.boils, 'boil')}, ${many(lots.length, 'pack')}, ${many(totals.jarsMade, 'jar')}, ${formatSeasonVolume(season, syrupMillilitres(season))} of syrup, ${totals.held} held.`,
        `Record: ${record.entries} entries, root ${record.root}`,
      ],
    };
  },
};

/**
 * Percent by which the heap may grow before V8 collects its garbage again. A PDF's peak was 225 MB at V8's own choice and 160
 * at this, with a tenth to a sixth more processor time.
 */
const heapGrowth = 20;

/** By the option where it is given, else by the ending of the file. */
function requestedFormat(out: string, typed: string | undefined): { readonly name: string } | Refusal {
  const endings = seasonFormats.map((name) => `.${name}`).join(', ');
  const formats = seasonFormats.join(', ');
  if (out === '') return invalid('out', `a file that ends in ${endings}, or -`, 'nothing');
  const name = typed === undefined ? extname(out).slice(1).toLowerCase() : typed.toLowerCase();
  if (seasonFormats.includes(name)) return { name };
  if (typed !== undefined) return invalid('format', `one of ${formats}`, `"${typed}"`);
  return out === '-'
    ? invalid('format', `one of ${formats}, for what goes to standard output`, 'nothing')
    : invalid('out', `a file that ends in ${endings}, or its --format`, `"${out}"`);
}
