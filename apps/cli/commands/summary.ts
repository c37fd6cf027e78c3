import { extname } from 'node:path';
import type { Writable } from 'node:stream';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import { loadSeasonContext } from '#libs/actions/season/season-context.js';
import { type PaperName, paperSize } from '#libs/pdf/paper-size.js';
import { readSeason } from '#libs/actions/season/read-season.js';
import { seasonJson, seasonSummary } from '#libs/reports/season/json.js';
import { syrupMillilitres } from '#libs/reports/season/totals.js';
import type { Season } from '#libs/reports/season/season.js';
import { many } from '#libs/format/format.js';
import { spokenVolume } from '#libs/format/format-volume.js';
import { described } from '../catalogue.js';
import { type Command, optionText } from '../command.js';
import { documentMeaning, documentOptions, nameOf, paperAsked, writtenFile } from '../written-file.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export const summary: Command = {
  ...described('summary'),
  options: { ...documentOptions, format: 'text', paper: 'text', 'lot-pages': 'flag' },
  meaning: {
    ...documentMeaning,
    format: 'pdf, xlsx, csv, json or jsonld, where the file has no such ending: on standard output',
    paper: 'of the PDF: letter or a4; that of the place where it is left out',
    'lot-pages': 'in the PDF, a page for each lot with every reading',
  },
  run: async (bench) => {
    const [year] = bench.argv;
    if (year === undefined || !/^20\d\d$/.test(year) || bench.argv.length > 1)
      return invalid('year', 'one year like 2026', bench.argv.join(' ') || 'nothing');
    const out = optionText(bench, 'out') ?? '';
    const format = formatOf(out, optionText(bench, 'format'));
    if ('problem' in format) return format;
    const paper = paperAsked(bench, format.ending);
    if ('problem' in paper) return paper;
    const { write } = format;
    const book = await bench.book();
    const season = await book.snapshot(async (sql) =>
      readSeason(
        sugarhouseReader(sql, bench.writeContext.sugarhouse),
        Number(year),
        await loadSeasonContext(sql, bench.writeContext),
      ),
    );
    await writtenFile(bench, (file) =>
      write(season, file, {
        now: bench.now,
        paper: paper.name,
        lotPages: bench.options['lot-pages'] === true,
        base: bench.settings.publicUrl,
      }),
    );
    const { totals, record, lots } = seasonSummary(season);
    return {
      json: { file: out, year: season.year, totals, record },
      lines: [
        `${nameOf(out)}: ${many(totals.boils, 'boil')}, ${many(lots.length, 'pack')}, ${many(totals.jarsMade, 'jar')}, ${spokenVolume(season, syrupMillilitres(season))} of syrup, ${totals.held} held.`,
        `Record: ${record.entries} entries, root ${record.root}`,
      ],
    };
  },
};

/** By the option where it is given, else by the ending of the file. */
function formatOf(out: string, typed: string | undefined): { write: Writer; ending: string } | Refusal {
  const endings = Object.keys(writers);
  if (out === '') return invalid('out', `a file that ends in ${endings.join(', ')}, or -`, 'nothing');
  const ending = typed === undefined ? extname(out).toLowerCase() : `.${typed.toLowerCase()}`;
  const write = writers[ending];
  if (write) return { write, ending };
  const formats = endings.map((ending) => ending.slice(1)).join(', ');
  if (typed !== undefined) return invalid('format', `one of ${formats}`, `"${typed}"`);
  return out === '-'
    ? invalid('format', `one of ${formats}, for what goes to standard output`, 'nothing')
    : invalid('out', `a file that ends in ${endings.join(', ')}, or its --format`, `"${out}"`);
}

type Writer = (season: Season, out: Writable, options: ParseOptions) => Promise<void>;
interface ParseOptions {
  readonly now: Date;
  readonly lotPages: boolean;
  readonly paper: PaperName | undefined;
  readonly base: string;
}
/** Leads to the inspector's view; none where nobody set an address. */
async function inspectorSymbol(season: Season, base: string) {
  const { addressSymbol } = await import('#libs/labels/symbol/address-symbol.js');
  const address = base || season.house.publicUrl;
  return address ? addressSymbol(`${address}/season/${season.year}`) : undefined;
}

const text =
  (make: (season: Season, options: ParseOptions) => string | Promise<string>): Writer =>
  async (season, out, options) =>
    void out.end(await make(season, options));

/** Each loads what it draws with: a CSV need not wait for the library of another format. */
const writers: Readonly<Record<string, Writer>> = {
  '.pdf': async (season, out, { now, lotPages, base, paper }) => {
    const { closeCharts, drawCharts } = await import('#libs/reports/charts/charts.js');
    const { writeSeasonPdf } = await import('#libs/reports/season/pdf.js');
    const pictures = await drawCharts(season, 'paper');
    await writeSeasonPdf(season, out, {
      createdAt: now,
      size: paperSize(paper, season.house),
      pictures,
      symbol: await inspectorSymbol(season, base),
      ...(lotPages ? { lotPages: 'all' } : {}),
    });
    await closeCharts();
  },
  '.xlsx': async (season, out, { now }) =>
    (await import('#libs/reports/season/xlsx.js')).writeSeasonXlsx(season, out, now),
  '.csv': text(async (season) => (await import('#libs/reports/season/csv.js')).seasonCsv(season)),
  '.json': text((season) => seasonJson(season)),
  '.jsonld': text(async (season, { now, base }) => {
    const { seasonJsonLd } = await import('#libs/reports/epcis/season-epcis.js');
    return seasonJsonLd(season, { createdAt: now, ...(base ? { base } : {}) });
  }),
};
