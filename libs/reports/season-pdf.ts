import type { Writable } from 'node:stream';
import { drawLotPage } from './lot-pdf.js';
import { closePaper, openPaper, practiceBook, turnPage, type Paper } from './pdf-paper.js';
import { breathe, sendPaper } from './pdf-send.js';
import { drawCover } from './season-cover.js';
import { drawDeviations } from './season-deviations.js';
import { drawKey, drawSignatures, drawWhomToAsk } from './season-key.js';
import { drawBoils, drawLots, drawMissing, drawSpent, drawWhereJarsWent } from './season-lots.js';
import { drawPictures, type Pictures } from './season-pictures.js';
import { drawSideRecords } from './season-side-pages.js';
import type { Season } from './season.js';

export interface SeasonPdfManner {
  /** The document's creation date; the same season and date give the same bytes. */
  readonly createdAt: Date;
  /** Lots that get a page of their own; none without. */
  readonly lotPages?: readonly string[] | 'all';
  /** The pictures, drawn beforehand (`drawCharts`); the page is left out without them. */
  readonly pictures?: Pictures;
}

/**
 * The yearly lot summary as one PDF, written to `out` page by page as it is drawn. Resolves when the last byte has
 * been taken; rejects where `out` fails or is closed early.
 */
export async function writeSeasonPdf(season: Season, out: Writable, manner: SeasonPdfManner): Promise<void> {
  const paper = openPaper({
    title: `${season.house.name}, season ${season.year}: yearly lot summary`,
    subject: `Lots packed in ${season.year}, read ${season.asOf}`,
    author: season.house.name,
    footer: footOf(season),
    createdAt: manner.createdAt,
    layout: 'landscape',
    practice: season.practice ? practiceBook : null,
  });
  await sendPaper(paper, out, () => drawSeason(paper, season, manner));
}

async function drawSeason(paper: Paper, season: Season, manner: SeasonPdfManner): Promise<void> {
  turnPage(paper);
  drawCover(paper, season);
  await breathe(paper);
  await drawLots(paper, season);
  await drawLotPages(paper, season, manner.lotPages ?? []);
  await drawDeviations(paper, season);
  if (manner.pictures) await drawPictures(paper, season, manner.pictures);
  await drawWhereJarsWent(paper, season, manner.pictures?.jarsByPlace);
  await drawBoils(paper, season);
  await drawSpent(paper, season);
  await drawSideRecords(paper, season);
  await drawKey(paper, season);
  await drawWhomToAsk(paper, season);
  await drawMissing(paper, season);
  drawSignatures(paper, season);
  closePaper(paper);
}

async function drawLotPages(paper: Paper, season: Season, asked: readonly string[] | 'all'): Promise<void> {
  const wanted = asked === 'all' ? season.lots : season.lots.filter((lot) => asked.includes(lot.lot));
  if (wanted.length === 0) return;
  const bookmark = paper.doc.outline.addItem('Lot by lot');
  for (const lot of wanted) {
    await drawLotPage(paper, season, lot, bookmark);
    await breathe(paper);
  }
}

function footOf(season: Season): string {
  const { entries, root } = season.record;
  const practice = season.practice ? 'PRACTICE · ' : '';
  return `${practice}${season.house.name} · season ${season.year} · record of ${entries} entries, root ${root}`;
}
