import { parse } from 'csv-parse/sync';
import ExcelJS from 'exceljs';
import type { Book } from '#libs/store/book.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { record } from '#libs/actions/record/record.js';
import { loadSeasonContext } from '#libs/actions/season/season-context.js';
import { readSeason } from '#libs/actions/season/read-season.js';
import { seasonCsv } from '#libs/reports/season/csv.js';
import { seasonJson, type SeasonSummary } from '#libs/reports/season/json.js';
import { writeSeasonPdf, type SeasonPdfOptions } from '#libs/reports/season/pdf.js';
import { writeSeasonXlsx } from '#libs/reports/season/xlsx.js';
import type { Season } from '#libs/reports/season/season.js';
import { writeContext, done, sugarhouse } from './sugarhouse.js';
import { bytesOf, readPdf, type ReadPdf } from './read-pdf.js';

export type Row = Readonly<Record<string, string>>;

/** A season's documents, each written to bytes and read back by an independent reader. */
export interface Documents {
  readonly season: Season;
  readonly json: SeasonSummary;
  readonly csv: readonly Row[];
  /** A sheet of the workbook as rows by heading; a blank is an empty text. */
  readonly sheet: (name: string) => readonly Row[];
  readonly pdf: ReadPdf;
  readonly pdfBytes: Buffer;
  /** The text of the PDF, and that of its first page, with single spaces. */
  readonly text: string;
  readonly pageOne: string;
}

export async function documentsOf(
  book: Book,
  now = new Date('2026-06-20T16:00:00Z'),
  options: Partial<SeasonPdfOptions> = {},
  year = 2026,
): Promise<Documents> {
  const season = await book.snapshot(async (sql) =>
    readSeason({ sql, sugarhouse }, year, await loadSeasonContext(sql, writeContext({ now }))),
  );
  return documentsOfSeason(season, now, options);
}

export async function documentsOfSeason(
  season: Season,
  createdAt: Date,
  options: Partial<SeasonPdfOptions> = {},
): Promise<Documents> {
  const pdfBytes = await bytesOf((out) => writeSeasonPdf(season, out, { createdAt, ...options }));
  const pdf = await readPdf(pdfBytes);
  const workbook = new ExcelJS.Workbook();
  await workbook.xlsx.load(
    (await bytesOf((out) => writeSeasonXlsx(season, out, createdAt))) as unknown as ExcelJS.Buffer,
  );
  return {
    season,
    json: JSON.parse(seasonJson(season)) as SeasonSummary,
    csv: parse<Row>(seasonCsv(season), { columns: true, bom: true }),
    sheet: (name) => rowsOf(workbook, name),
    pdf,
    pdfBytes,
    text: plain(pdf.text),
    pageOne: plain(pdf.pages[0]?.text ?? ''),
  };
}

function rowsOf(workbook: ExcelJS.Workbook, name: string): Row[] {
  const page = workbook.getWorksheet(name);
  if (!page) throw new Error(`The workbook has no sheet ${name}`);
  const headings = (page.getRow(1).values as string[]).slice(1);
  return Array.from({ length: page.rowCount - 1 }, (_, n) =>
    Object.fromEntries(
      headings.map((heading, at) => {
        const { value, text } = page.getRow(n + 2).getCell(at + 1);
        return [heading, value instanceof Date ? value.toISOString().slice(0, 16) : text];
      }),
    ),
  );
}

export const plain = (text: string): string => text.replace(/\s+/g, ' ');

/** Records a supporting record by the plural name of its kind, as its page would. */
export async function supporting(book: Book, plural: string, fields: Readonly<Record<string, string>>): Promise<void> {
  const kind = [...kindByName.values()].find((each) => each.plural === plural);
  if (!kind) throw new Error(`No kind is called ${plural}`);
  done(await record(book, writeContext(), kind, { at: '2026-03-25T08:00', ...fields }));
}
