import { extname } from 'node:path';
import type { Writable } from 'node:stream';
import { invalid } from '#libs/actions/problem.js';
import { seasonGround } from '#libs/actions/season-ground.js';
import { closeCharts, drawCharts } from '#libs/reports/charts.js';
import { readSeason } from '#libs/reports/read-season.js';
import { seasonCsv } from '#libs/reports/season-csv.js';
import { seasonJsonLd } from '#libs/reports/season-epcis.js';
import { seasonJson, seasonSummary } from '#libs/reports/season-json.js';
import { writeSeasonPdf } from '#libs/reports/season-pdf.js';
import { syrupMillilitres } from '#libs/reports/season-totals.js';
import { writeSeasonXlsx } from '#libs/reports/season-xlsx.js';
import type { Season } from '#libs/reports/season.js';
import { many } from '#libs/reports/shown.js';
import { spokenVolume } from '#libs/reports/spoken-volume.js';
import { type Command, optionText } from '../command.js';
import { writtenFile } from '../written-file.js';

export const summary: Command = {
  name: 'summary',
  usage: 'YEAR --out FILE',
  says: 'The yearly lot summary, by the ending of FILE: .pdf .xlsx .csv .json .jsonld (EPCIS 2.0).',
  options: { out: 'text', 'lot-pages': 'flag' },
  meaning: { 'lot-pages': 'in the PDF, a page for each lot with every reading' },
  run: async (bench) => {
    const [year] = bench.words;
    if (year === undefined || !/^20\d\d$/.test(year) || bench.words.length > 1)
      return invalid('year', 'one year like 2026', bench.words.join(' ') || 'nothing');
    const out = optionText(bench, 'out') ?? '';
    const write = writers[extname(out).toLowerCase()];
    if (!write)
      return invalid('out', `a file that ends in ${Object.keys(writers).join(', ')}`, out ? `"${out}"` : 'nothing');
    const book = await bench.book();
    const season = await book.snapshot(async (sql) =>
      readSeason(sql, bench.desk.sugarhouse, Number(year), await seasonGround(sql, bench.desk)),
    );
    await writtenFile(out, (file) =>
      write(season, file, {
        now: bench.now,
        lotPages: bench.options['lot-pages'] === true,
        base: bench.settings.publicUrl,
      }),
    );
    const { totals, record, lots } = seasonSummary(season);
    return {
      json: { file: out, year: season.year, totals, record },
      lines: [
        `${out}: ${many(totals.boils, 'boil')}, ${many(lots.length, 'pack')}, ${many(totals.jarsMade, 'jar')}, ${spokenVolume(season, syrupMillilitres(season))} of syrup, ${totals.held} held.`,
        `Record: ${record.entries} entries, root ${record.root}`,
      ],
    };
  },
};

type Writer = (season: Season, out: Writable, manner: Manner) => Promise<void>;
interface Manner {
  readonly now: Date;
  readonly lotPages: boolean;
  readonly base: string;
}
const text =
  (make: (season: Season, manner: Manner) => string): Writer =>
  async (season, out, manner) =>
    void out.end(make(season, manner));

const writers: Readonly<Record<string, Writer>> = {
  '.pdf': async (season, out, { now, lotPages }) => {
    const pictures = await drawCharts(season, 'paper');
    await writeSeasonPdf(season, out, { createdAt: now, pictures, ...(lotPages ? { lotPages: 'all' } : {}) });
    await closeCharts();
  },
  '.xlsx': (season, out, { now }) => writeSeasonXlsx(season, out, now),
  '.csv': text((season) => seasonCsv(season)),
  '.json': text((season) => seasonJson(season)),
  '.jsonld': text((season, { now, base }) => seasonJsonLd(season, { createdAt: now, ...(base ? { base } : {}) })),
};
