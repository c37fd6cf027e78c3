import { drawnOffOf, type DrawnOff } from './drawn-off.js';
import { syrupText, signedText } from './page-one-text.js';
import { flowBlocks } from '#libs/pdf/blocks.js';
import { artifact, closeSection, openSection, paragraph, type Section } from '#libs/pdf/flow.js';
import { ink, write, type Paper } from '#libs/pdf/paper.js';
import { compact, rowsThatFit, table, type TableColumn } from '#libs/pdf/table.js';
import { sapBoiled } from './totals.js';
import { supportingBlocks } from './supporting-blocks.js';
import type { SeasonBoil } from './flow.js';
import type { Season } from './season.js';
import { minute, tenth } from '#libs/format/format.js';
import { littleVolume } from '#libs/format/format-volume.js';

const signaturesPt = 70;

/** Sap to syrup, boil by boil, as many as fit the page; the spreadsheet has every one. */
export async function drawBoils(paper: Paper, season: Season): Promise<void> {
  const section = openSection(paper, 'The boils', { newPage: true });
  if (season.boils.length === 0) paragraph(section, `No boil is recorded in ${season.year}.`);
  else {
    const columns = boilTable(season);
    const fit = rowsThatFit(paper, columns, season.boils, paper.bottomPt - paper.yPt - 40, compact);
    await table(section, columns, season.boils.slice(0, fit.rows), compact);
    if (fit.rows < season.boils.length)
      paragraph(section, `and ${season.boils.length - fit.rows} more boils, in the sheet “Boils”.`, { sizePt: 8.5 });
  }
  for (const text of syrupText(season)) if (paper.yPt < paper.bottomPt - 16) paragraph(section, text, { sizePt: 8.5 });
  closeSection(section);
}

const inputText = (boil: SeasonBoil): string =>
  [
    ...boil.inputs.map((input) => `${input.code} ${input.volumeTyped}`),
    ...boil.carriedFrom.map((input) => `left in the pans from ${input.code} ${input.volumeTyped}`),
  ].join(', ') || 'not recorded';

const typedOf = (boil: SeasonBoil, kind: string): string =>
  boil.readings
    .filter((reading) => reading.kind === kind)
    .map((reading) => reading.typed)
    .join(', ') || 'not recorded';

function boilTable(season: Season): readonly TableColumn<SeasonBoil>[] {
  const drawn = drawnOffOf(season);
  const at = (boil: SeasonBoil, part: keyof DrawnOff): string => drawn.get(boil.lot)?.[part].join(', ') ?? '';
  return [
    { heading: 'Boil', of: (boil) => boil.lot, face: 'boldCode' },
    { heading: 'Began', of: (boil) => minute(boil.beganAt), face: 'figures' },
    { heading: 'Finished', of: (boil) => (boil.finishedAt ? minute(boil.finishedAt) : 'not recorded') },
    { heading: 'From', of: inputText },
    { heading: 'Sap', of: (boil) => sapText(season, boil), align: 'right' },
    { heading: 'Water boils', of: (boil) => typedOf(boil, 'water boils') },
    { heading: 'Drawn off at', of: (boil) => at(boil, 'finish') || 'not recorded' },
    {
      heading: 'Filter',
      of: (boil) => [at(boil, 'filter') || 'not recorded', at(boil, 'media')].filter(Boolean).join(', '),
    },
    { heading: 'Defoamer', of: (boil) => boil.defoamer ?? 'not recorded' },
    { heading: 'Allergens in it', of: (boil) => boil.defoamerAllergens ?? 'not recorded' },
    { heading: 'Syrup', of: (boil) => boil.syrupVolumeTyped, align: 'right' },
    { heading: 'Sap to syrup', of: ratioText, align: 'right' },
    { heading: 'By', of: (boil) => boil.by },
  ];
}

/** As measured, else the sum of what went in. */
function sapText(season: Season, boil: SeasonBoil): string {
  if (boil.sapVolumeTyped !== null) return boil.sapVolumeTyped;
  const sap = sapBoiled(boil);
  return sap === null ? 'not recorded' : littleVolume(season, sap);
}

function ratioText(boil: SeasonBoil): string {
  const sap = sapBoiled(boil);
  return sap === null || boil.syrupMillilitres === 0 ? '–' : `${tenth(sap / boil.syrupMillilitres)} to 1`;
}

/** Supporting records on one page, each kind with its latest; the spreadsheet has all. Then the signatures. */
export function drawSupporting(paper: Paper, season: Season): void {
  const section = openSection(paper, 'Supporting records', { newPage: true });
  const heightPt = paper.bottomPt - paper.yPt - signaturesPt;
  const left = flowBlocks(paper, section.element, supportingBlocks(season), heightPt - 14);
  if (left.length > 0)
    paragraph(section, `Only in the workbook, as there is no room here: ${left.join('; ')}.`, {
      sizePt: 8,
      widthPt: paper.widthPt,
    });
  drawSignatures(section, season);
  closeSection(section);
}

function drawSignatures(section: Section, season: Season): void {
  const { paper } = section;
  paper.yPt = Math.max(paper.yPt, paper.bottomPt - signaturesPt + 6);
  section.element.add(
    paper.doc.struct('P', {}, () => {
      write(paper, `${signedText(season)}.`, paper.leftPt, paper.yPt + 10, { face: 'bold', sizePt: 9 });
    }),
  );
  const lineAt = paper.yPt + 46;
  const step = paper.widthPt / 2;
  ['For the sugarhouse', 'Inspector'].forEach((who, index) => {
    const left = paper.leftPt + index * step;
    section.element.add(
      paper.doc.struct('P', {}, () => {
        write(paper, `${who}, name and signature`, left, lineAt + 11, { sizePt: 8, colour: ink.soft });
        write(paper, 'Date', left + 220, lineAt + 11, { sizePt: 8, colour: ink.soft });
      }),
    );
    artifact(paper, () => {
      paper.doc.moveTo(left, lineAt).lineTo(left + 205, lineAt);
      paper.doc.moveTo(left + 220, lineAt).lineTo(left + 320, lineAt);
      paper.doc.lineWidth(0.8).strokeColor(ink.black).stroke();
    });
  });
  paper.yPt = paper.bottomPt;
}
