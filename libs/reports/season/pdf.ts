import type { Writable } from 'node:stream';
import { drawLotPage } from '../lot/lot-page.js';
import { paperSize, type PaperSize } from '#libs/pdf/paper-size.js';
import { closePaper, openPaper, practiceBook, startPage, type Paper } from '#libs/pdf/paper.js';
import { yieldWhileDrawing, streamPaper } from '#libs/pdf/stream-paper.js';
import { drawBoils, drawSupporting } from './appendix.js';
import { drawDeviations } from './deviations.js';
import { drawPageOne, type PageSymbol } from './page-one.js';
import { drawPictures, type Pictures } from './pictures.js';
import type { Season } from './season.js';

export interface SeasonPdfOptions {
  /** The document's creation date; the same season and date give the same bytes. */
  readonly createdAt: Date;
  /** Lots that get a page of their own, at the end; none by default. */
  readonly lotPages?: readonly string[] | 'all';
  /** The pictures, drawn beforehand (`drawCharts`); without them the page is omitted. */
  readonly pictures?: Pictures;
  /** The symbol on page one that links to the inspector's view on the server; none without a public address. */
  readonly symbol?: PageSymbol | undefined;
  /** By default that of the sugarhouse's place. */
  readonly size?: PaperSize;
}

/**
 * The yearly lot summary as one PDF, written to `out` page by page as it is drawn. Resolves when the last byte has been
 * accepted; rejects where `out` fails or is closed early.
 */
export async function writeSeasonPdf(season: Season, out: Writable, options: SeasonPdfOptions): Promise<void> {
  const paper = openPaper({
    title: `${season.house.name}, season ${season.year}: yearly lot summary`,
    subject: `Lots packed in ${season.year}, read ${season.asOf}`,
    author: season.house.name,
    footer: footOf(season),
    createdAt: options.createdAt,
    layout: 'landscape',
    size: options.size ?? paperSize(undefined, season.house),
    sidePt: 30,
    practice: season.practice ? practiceBook : null,
  });
  await streamPaper(paper, out, () => drawSeason(paper, season, options));
}

/** The limit for up to thirty lots: what has no room is in the spreadsheet. */
export const maxPages = 6;

async function drawSeason(paper: Paper, season: Season, options: SeasonPdfOptions): Promise<void> {
  startPage(paper);
  await drawPageOne(paper, season, options.symbol);
  await yieldWhileDrawing(paper);
  const isLimited = season.lots.length <= maxLotsHeldToPages;
  // The last page is for the supporting records and the signatures.
  await drawDeviations(paper, season, isLimited ? Math.max(1, maxPages - paper.pages - 1) : undefined);
  await yieldWhileDrawing(paper);
  // Where pages run out, deviations take precedence over pictures, and supporting records over boils.
  const pagesLeft = isLimited ? maxPages - paper.pages : maxPages;
  if (options.pictures && pagesLeft >= 3) drawPictures(paper, season, options.pictures);
  await yieldWhileDrawing(paper);
  if (pagesLeft >= 2) await drawBoils(paper, season);
  drawSupporting(paper, season);
  await drawLotPages(paper, season, options.lotPages ?? []);
  closePaper(paper);
}

const maxLotsHeldToPages = 30;

async function drawLotPages(paper: Paper, season: Season, selection: readonly string[] | 'all'): Promise<void> {
  const wanted = selection === 'all' ? season.lots : season.lots.filter((lot) => selection.includes(lot.lot));
  if (wanted.length === 0) return;
  const bookmark = paper.doc.outline.addItem('Lot by lot');
  for (const lot of wanted) {
    await drawLotPage(paper, season, lot, bookmark);
    await yieldWhileDrawing(paper);
  }
}

function footOf(season: Season): string {
  const { entries, root } = season.record;
  const practice = season.practice ? 'PRACTICE · ' : '';
  return `${practice}${season.house.name} · season ${season.year} · record of ${entries} entries, root ${root}`;
}
