import type { Writable } from 'node:stream';
import { type PaperName, paperSize } from '#libs/pdf/paper-size.js';
import type { Season } from '#libs/reports/season/season.js';
import type { Book } from '#libs/store/book.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { invalid, type Refusal } from '../record/problem.js';
import type { WriteContext } from '../record/write-context.js';
import { readSeason } from './read-season.js';
import { loadSeasonContext } from './season-context.js';

export interface SeasonRequest {
  readonly year: string;
  /** One of `seasonFormats`: `pdf`. */
  readonly format: string;
  /** The base address of symbols and event ids; blank where the settings have none. */
  readonly base: string;
  /** Paper of the PDF; by default that of the place. */
  readonly paper?: PaperName | undefined;
  /** In the PDF, a page for each lot with every reading. */
  readonly lotPages?: boolean;
}

export interface SeasonDocument {
  readonly season: Season;
  readonly name: string;
  readonly media: string;
  readonly write: (out: Writable) => Promise<void>;
}

/** The yearly lot summary: read at one moment, written out while it is drawn. */
export async function seasonDocument(
  book: Book,
  context: WriteContext,
  request: SeasonRequest,
): Promise<SeasonDocument | Refusal> {
  const { year, format, paper } = request;
  const found = formats[format];
  if (!/^20\d\d$/.test(year)) return invalid('year', 'one year like 2026', year ? `"${year}"` : 'nothing');
  if (!found) return invalid('format', `one of ${seasonFormats.join(', ')}`, `"${format}"`);
  if (paper !== undefined && format !== 'pdf')
    return invalid('paper', 'no paper size, which only a PDF has', `"${paper}"`);
  const season = await book.snapshot(
    async (sql) =>
      readSeason(sugarhouseReader(sql, context.sugarhouse), Number(year), await loadSeasonContext(sql, context)),
    { rerun: true },
  );
  const write = (out: Writable): Promise<void> => found.write(season, out, { ...request, now: context.now });
  return { season, name: `season-${year}.${format}`, media: found.media, write };
}

interface SeasonFormat {
  readonly media: string;
  readonly write: (season: Season, out: Writable, request: SeasonRequest & { readonly now: Date }) => Promise<void>;
}

/** Each format loads its own library, so that a CSV doesn't wait for another format's. */
const formats: Readonly<Record<string, SeasonFormat>> = {
  pdf: {
    media: 'application/pdf',
    write: async (season, out, { now, paper, base, lotPages }) => {
      const { drawCharts } = await import('#libs/reports/charts/charts.js');
      const { writeSeasonPdf } = await import('#libs/reports/season/pdf.js');
      await writeSeasonPdf(season, out, {
        createdAt: now,
        size: paperSize(paper, season.house),
        pictures: drawCharts(season, 'paper'),
        symbol: await inspectorSymbol(season, base),
        ...(lotPages ? { lotPages: 'all' } : {}),
      });
    },
  },
  xlsx: {
    media: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
    write: async (season, out, { now }) =>
      (await import('#libs/reports/season/xlsx.js')).writeSeasonXlsx(season, out, now),
  },
  csv: {
    media: 'text/csv; charset=utf-8',
    write: async (season, out) => void out.end((await import('#libs/reports/season/csv.js')).seasonCsv(season)),
  },
  json: {
    media: 'application/json; charset=utf-8',
    write: async (season, out) => void out.end((await import('#libs/reports/season/json.js')).seasonJson(season)),
  },
  jsonld: {
    media: 'application/ld+json; charset=utf-8',
    write: async (season, out, { now, base }) => {
      const { seasonJsonLd } = await import('#libs/reports/epcis/season-epcis.js');
      out.end(seasonJsonLd(season, { createdAt: now, ...(base ? { base } : {}) }));
    },
  },
};

export const seasonFormats: readonly string[] = Object.keys(formats);

/** The media type of a format without its character set; blank where there is no such format. */
export const seasonMedia = (format: string): string => (formats[format]?.media ?? '').split(';')[0] ?? '';

/** A symbol that links to the inspector's view; none without an address that others can open. */
async function inspectorSymbol(season: Season, base: string) {
  const { addressSymbol } = await import('#libs/labels/symbol/address-symbol.js');
  const address = base || season.house.publicUrl;
  return address ? addressSymbol(`${address}/season/${season.year}`) : undefined;
}
