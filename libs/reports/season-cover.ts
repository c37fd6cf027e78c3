import { ascent } from './pdf-faces.js';
import { artifact } from './pdf-flow.js';
import { ink, rule, write, type Mark, type Paper } from './pdf-paper.js';
import { seasonTotals, syrupMillilitres } from './season-totals.js';
import type { Season } from './season.js';
import { spokenAmount, spokenUnit, spokenVolume } from './spoken-volume.js';
import { day, grouped, minute, rootWords, tenth, whole } from './shown.js';
import { layTaper } from './taper-layout.js';
import { drawTaper } from './taper-pdf.js';
import { wholeSeasonTaper } from './taper-of-season.js';

/** Whose season, where, by which rules, the season in five numbers and as one line, and the root of the record. */
export function drawCover(paper: Paper, season: Season): void {
  const section = paper.doc.struct('Sect');
  paper.root.add(section);
  paper.doc.outline.addItem('Cover');
  drawTitle(paper, section, season);
  drawFiveNumbers(paper, section, season);
  drawWholeSeason(paper, section, season);
  drawRoot(paper, section, season);
  section.end();
}

/** The season as one line, in the middle of what the root leaves free. */
function drawWholeSeason(paper: Paper, section: PDFKit.PDFStructureElement, season: Season): void {
  const syrup = spokenVolume(season, syrupMillilitres(season));
  const taper = wholeSeasonTaper(season, sapWords(season), syrup);
  const { heightPt } = layTaper(taper, 'across', paper.widthPt, coverBoldness);
  const freePt = paper.bottomPt - rootRoomPt - paper.yPt - heightPt;
  paper.yPt += Math.max(8, freePt / 2);
  drawTaper(paper, section, taper, { boldness: coverBoldness });
}

const coverBoldness = 2.6;
const rootRoomPt = 76;

function drawTitle(paper: Paper, section: PDFKit.PDFStructureElement, season: Season): void {
  const { house } = season;
  const right = paper.leftPt + paper.widthPt;
  const nameSizePt = fittedSizePt(paper, house.name, paper.widthPt - 170, 34);
  const top = paper.topPt + 18;
  section.add(
    paper.doc.struct('H1', {}, () => {
      write(paper, house.name, paper.leftPt, top + 26, { face: 'bold', sizePt: nameSizePt });
    }),
  );
  section.add(
    paper.doc.struct('P', {}, () => {
      write(paper, `Season ${season.year}`, right, top + 26, { face: 'boldFigures', sizePt: 20, anchor: 'right' });
      write(paper, 'yearly lot summary', right, top + 42, { sizePt: 11, colour: ink.soft, anchor: 'right' });
    }),
  );
  const lines = [
    [...house.addressLines, house.telephone ?? ''].filter((part) => part !== '').join(', '),
    [`Judged by ${house.rulesName}`, ...house.licences].join(' · '),
    `${periodWords(season)} Read from the book ${minute(season.asOf)}, times as in ${house.zone}.`,
  ];
  paper.yPt = top + 36;
  for (const line of lines.filter((words) => words !== '')) {
    for (const part of paper.faces.wrap(line, 'words', 10, paper.widthPt - 140)) {
      section.add(
        paper.doc.struct('P', {}, () => void write(paper, part, paper.leftPt, paper.yPt + 10 * ascent, { sizePt: 10 })),
      );
      paper.yPt += 14;
    }
  }
  paper.yPt += 6;
  artifact(paper, () => rule(paper, paper.yPt, 1.2, ink.black));
}

/** First sap to last pack; a season in which nothing happened says so. */
function periodWords(season: Season): string {
  const times = [
    ...season.gatherings.map((one) => one.gatheredAt),
    ...season.receipts.map((one) => one.receivedAt),
    ...season.boils.map((one) => one.beganAt),
    ...season.lots.map((one) => one.packedAt),
  ].sort();
  const [first] = times;
  const last = times.at(-1);
  return first && last
    ? `From ${day(first)} to ${day(last)}.`
    : `Nothing was gathered, boiled or packed in ${season.year}.`;
}

function drawFiveNumbers(paper: Paper, section: PDFKit.PDFStructureElement, season: Season): void {
  const totals = seasonTotals(season);
  const numbers: readonly [string, string, Mark?][] = [
    [whole(totals.boils), totals.boils === 1 ? 'boil' : 'boils'],
    [tenth(spokenAmount(season, syrupMillilitres(season))), `${spokenUnit(season)} of syrup`],
    [whole(totals.packs), totals.packs === 1 ? 'lot packed' : 'lots packed'],
    [whole(totals.jarsMade), totals.jarsMade === 1 ? 'jar made' : 'jars made'],
    [
      whole(totals.held),
      totals.held === 1 ? 'lot held now' : 'lots held now',
      totals.held > 0 ? { colour: ink.stamp } : {},
    ],
  ];
  const stepPt = paper.widthPt / numbers.length;
  const baseline = paper.yPt + 46;
  numbers.forEach(([number, words, mark], index) => {
    section.add(
      paper.doc.struct('P', {}, () => {
        const xPt = paper.leftPt + index * stepPt;
        write(paper, number, xPt, baseline, { face: 'boldFigures', sizePt: 40, ...mark });
        write(paper, words, xPt, baseline + 16, { sizePt: 10, colour: ink.soft });
      }),
    );
  });
  paper.yPt = baseline + 28;
  artifact(paper, () => rule(paper, paper.yPt, 0.5));
}

function sapWords(season: Season): string {
  const millilitres = season.boils.reduce((sum, boil) => sum + (boil.sapMillilitres ?? 0), 0);
  return `${whole(spokenAmount(season, millilitres))} ${spokenUnit(season)} of sap`;
}

/** At the foot of the cover: how many entries, the root, and what it means. */
export function drawRoot(paper: Paper, section: PDFKit.PDFStructureElement, season: Season): void {
  const { record } = season;
  const words = paper.faces.wrap(rootWords(record), 'words', 9, paper.widthPt);
  const heightPt = 12 + 14 + 15 + words.length * 12.4;
  paper.yPt = Math.max(paper.yPt + 8, paper.bottomPt - heightPt);
  artifact(paper, () => rule(paper, paper.yPt, 0.5));
  section.add(
    paper.doc.struct('P', {}, () => {
      write(paper, `Record: ${whole(record.entries)} entries, root`, paper.leftPt, paper.yPt + 15, {
        face: 'bold',
        sizePt: 9.5,
      });
    }),
  );
  section.add(
    paper.doc.struct('P', { actual: record.root }, () => {
      const sizePt = fittedSizePt(paper, grouped(record.root), paper.widthPt, 11, 'code');
      write(paper, grouped(record.root), paper.leftPt, paper.yPt + 30, { face: 'code', sizePt });
    }),
  );
  section.add(
    paper.doc.struct('P', {}, () => {
      words.forEach((line, index) =>
        write(paper, line, paper.leftPt, paper.yPt + 44 + index * 12.4, { sizePt: 9, colour: ink.soft }),
      );
    }),
  );
}

function fittedSizePt(
  paper: Paper,
  text: string,
  widthPt: number,
  most: number,
  face: 'bold' | 'code' = 'bold',
): number {
  return Math.min(most, widthPt / Math.max(0.1, paper.faces.widthPt(text, face, 1)));
}
