import { allergenCell, boiledCell, densityCell, fillCell, productCell } from './page-one-cells.js';
import {
  balanceText,
  countBlock,
  deviationBlock,
  instrumentBlocks,
  placesBlock,
  riskBlock,
  seasonLine,
  unrecordedBlock,
  signedText,
} from './page-one-text.js';
import { drawColumns, minBlockHeightPt, addToShortest } from '#libs/pdf/blocks.js';
import { ascent } from '#libs/pdf/faces.js';
import { artifact, type Section } from '#libs/pdf/flow.js';
import { ink, rule, startPage, write, type Paper } from '#libs/pdf/paper.js';
import { compact, rowsThatFit, table, type TableColumn } from '#libs/pdf/table.js';
import { statusStyle, statusWord } from './status.js';
import { seasonTotals } from './totals.js';
import type { SeasonLot } from './lot.js';
import type { Season } from './season.js';
import { grouped, minute, shortDay, whole } from '#libs/format/format.js';

/** An address as a symbol: dark runs as an SVG path in modules, and modules per side. */
export interface PageSymbol {
  readonly address: string;
  readonly path: string;
  readonly modules: number;
}

const footPt = 50;
const blockColumns = 4;
/** Height of the rule above the blocks and the space around it. */
const blocksAbovePt = 10;
/**
 * The least room for the blocks. A season of usual size fits the page, with fewer items in the lists below but every
 * count. Of more lots some have their row on the next page, so room is left to name those held or recalled.
 */
function minBlocksPt(paper: Paper, season: Season): number {
  const blockPt = (maxNamed?: number): number =>
    minBlockHeightPt(paper, countBlock(season, maxNamed), blockColumns) + blocksAbovePt;
  const countsPt = blockPt(0);
  if (season.lots.length <= 16) return countsPt;
  return Math.max(countsPt, Math.min(Math.max(blockPt(), 110), 150));
}

/**
 * The page that can be used alone: the sugarhouse, whom to call, every lot in a row that adds up, what was held, what
 * was not recorded, who verified it, and the root. Up to 16 lots fit; more continue on the next page under the same
 * headings.
 */
export async function drawPageOne(paper: Paper, season: Season, symbol: PageSymbol | undefined): Promise<void> {
  const element = paper.doc.struct('Sect');
  paper.root.add(element);
  const bookmark = paper.doc.outline.addItem('Page one');
  const section: Section = { paper, element, bookmark };
  drawHead(paper, element, season, symbol);
  const columns = pageOneColumns(season.year);
  const roomPt = paper.bottomPt - footPt - paper.yPt - minBlocksPt(paper, season);
  const fit = rowsThatFit(paper, columns, season.lots, roomPt, compact);
  if (season.lots.length > 0) await table(section, columns, season.lots.slice(0, fit.rows), compact);
  const blocksPt = paper.bottomPt - footPt - paper.yPt - blocksAbovePt;
  artifact(paper, () => rule(paper, paper.yPt, 0.9, ink.black));
  paper.yPt += 5;
  const [instruments, ...recalls] = instrumentBlocks(season);
  const besides = [
    [
      ...(season.lots.length === 0 ? [{ title: 'Lots', lines: [`No pack is recorded in ${season.year}.`] }] : []),
      deviationBlock(season, (counts) => minBlockHeightPt(paper, counts, blockColumns) <= blocksPt),
    ],
    instruments ? [instruments] : [],
    [unrecordedBlock(season)],
    [riskBlock(season)],
  ];
  const blocks = addToShortest(paper, besides, [placesBlock(season), ...recalls]);
  drawColumns(paper, element, blocks, blocksPt, 'on the pages that follow');
  drawFootOfOne(paper, element, season, season.lots.length - fit.rows);
  if (fit.rows < season.lots.length) {
    startPage(paper);
    await table(section, columns, season.lots.slice(fit.rows), compact);
  }
  element.end();
}

/** Temperatures and densities as read; jar counts such that each row adds up. */
export const pageOneColumns = (year: number): readonly TableColumn<SeasonLot>[] => [
  { heading: 'Lot', of: (lot) => lot.lot, face: 'boldCode' },
  { heading: 'Syrup of, boiled', of: (lot) => boiledCell(lot, year) },
  { heading: 'Packed', of: (lot) => shortDay(lot.packedAt, year), face: 'figures' },
  { heading: 'Maple syrup, container', of: productCell, unbroken: true },
  {
    heading: 'Lowest when capped, thermometer',
    of: fillCell,
    style: (lot) => (lot.fills.length === 0 ? { face: 'bold' } : {}),
  },
  {
    heading: '°Bx at 20 °C (as read)',
    of: densityCell,
    unbroken: true,
    style: (lot) => (lot.densityJudged === null ? { face: 'bold' } : {}),
  },
  { heading: 'Allergens', of: allergenCell },
  { heading: 'Made', of: (lot) => whole(lot.jarsMade), align: 'right', face: 'boldFigures' },
  { heading: 'On hand', of: (lot) => whole(lot.jarsOnHand), align: 'right' },
  { heading: 'Sent out, net', of: (lot) => whole(lot.jarsSentOut), align: 'right' },
  { heading: 'Destroyed', of: (lot) => whole(lot.jarsDestroyed), align: 'right' },
  { heading: 'Other', of: (lot) => whole(lot.jarsOther), align: 'right' },
  {
    heading: 'Unaccounted for',
    of: (lot) => (lot.unaccounted === null ? 'not counted' : whole(lot.unaccounted)),
    align: 'right',
  },
  { heading: 'By', of: (lot) => lot.by },
  { heading: 'Status', of: statusWord, style: statusStyle },
];

const symbolPt = 66;

function drawHead(
  paper: Paper,
  section: PDFKit.PDFStructureElement,
  season: Season,
  symbol: PageSymbol | undefined,
): void {
  const { house } = season;
  const right = paper.leftPt + paper.widthPt - (symbol ? symbolPt + 10 : 0);
  const top = paper.topPt - 14;
  const width = right - paper.leftPt;
  if (symbol) drawSymbol(paper, section, symbol, top);
  paper.hasTitle = true;
  section.add(
    paper.doc.struct('H1', {}, () => {
      write(paper, house.name, paper.leftPt, top + 17, {
        face: 'bold',
        sizePt: fittedSizePt(paper, house.name, width - 210, 21),
      });
      const title = `Season ${season.year}, yearly lot summary`;
      write(paper, title, right, top + 17, { face: 'bold', sizePt: 12, anchor: 'right' });
    }),
  );
  const [authority] = season.authorities;
  const licences = house.licences.length === 0 ? 'licence or registration: not recorded' : house.licences.join('; ');
  const lines = [
    [
      [...house.addressLines, `telephone ${house.telephone ?? 'not recorded'}`].join(', '),
      house.placeName,
      licences,
    ].join(' · '),
    `Authority: ${authority ? `${authority.name}, telephone ${authority.contact ?? 'not recorded'}` : 'not recorded'} · rules: ${house.rulesName} · read ${minute(season.asOf)} (${house.zone})`,
  ];
  paper.yPt = top + 24;
  for (const line of lines)
    drawSentence(paper, section, paper.faces.wrap(line, 'words', 8.5, width), 'words', 8.5, 10.4);
  for (const line of [seasonLine(season), balanceText(seasonTotals(season))])
    drawSentence(paper, section, paper.faces.wrap(line, 'bold', 9, width), 'bold', 9, 11.2);
  paper.yPt = Math.max(paper.yPt + 3, symbol ? top + symbolPt + 4 : 0);
  artifact(paper, () => rule(paper, paper.yPt, 1.2, ink.black));
  paper.yPt += 3;
}

function drawSentence(
  paper: Paper,
  section: PDFKit.PDFStructureElement,
  lines: readonly string[],
  face: 'words' | 'bold',
  sizePt: number,
  leadPt: number,
): void {
  section.add(
    paper.doc.struct('P', {}, () => {
      for (const line of lines) {
        write(paper, line, paper.leftPt, paper.yPt + sizePt * ascent, { face, sizePt });
        paper.yPt += leadPt;
      }
    }),
  );
}

function drawSymbol(paper: Paper, section: PDFKit.PDFStructureElement, symbol: PageSymbol, top: number): void {
  const quiet = 4;
  const modulePt = symbolPt / (symbol.modules + 2 * quiet);
  const left = paper.leftPt + paper.widthPt - symbolPt;
  section.add(
    paper.doc.struct('Figure', { alt: `Opens ${symbol.address}` }, () => {
      paper.doc
        .save()
        .translate(left + quiet * modulePt, top + quiet * modulePt - 4)
        .scale(modulePt)
        .path(symbol.path)
        .fill('#000000')
        .restore();
    }),
  );
}

/** Who signed it, room to sign, and the root of the log at the time of printing. */
function drawFootOfOne(paper: Paper, section: PDFKit.PDFStructureElement, season: Season, further: number): void {
  const top = paper.bottomPt - footPt;
  const { record } = season;
  artifact(paper, () => rule(paper, top, 0.9, ink.black));
  const line = (text: string, yPt: number, bold = false): void =>
    void section.add(
      paper.doc.struct('P', {}, () => {
        write(paper, text, paper.leftPt, yPt, { sizePt: 8.5, face: bold ? 'bold' : 'words' });
      }),
    );
  line(`${signedText(season)}.${further > 0 ? ` ${whole(further)} more lots on the next page.` : ''}`, top + 12, true);
  line(
    'For the sugarhouse ______________________   Date ____________   Inspector ______________________   Date ____________',
    top + 28,
  );
  section.add(
    paper.doc.struct('P', { actual: `${record.entries} entries, root ${record.root}` }, () => {
      const text = `Record: ${whole(record.entries)} entries, root `;
      const at = write(paper, text, paper.leftPt, top + 43, { sizePt: 8.5 });
      const sizePt = fittedSizePt(paper, grouped(record.root), paper.widthPt - at, 9, 'code');
      write(paper, grouped(record.root), paper.leftPt + at, top + 43, { face: 'code', sizePt });
    }),
  );
  paper.yPt = paper.bottomPt;
}

/** The size at which a text is at most `widthPt` wide, and at most `most`. */
function fittedSizePt(
  paper: Paper,
  text: string,
  widthPt: number,
  most: number,
  face: 'bold' | 'code' = 'bold',
): number {
  return Math.min(most, widthPt / Math.max(0.1, paper.faces.widthPt(text, face, 1)));
}
