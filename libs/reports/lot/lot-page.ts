import { closeSection, openSection, paragraph, type Section } from '#libs/pdf/flow.js';
import { ink, type Paper } from '#libs/pdf/paper.js';
import { table, type TableColumn } from '#libs/pdf/table.js';
import type { HistoryLine, Reading, SeasonLot } from '../season/lot.js';
import type { Season } from '../season/season.js';
import { day, many, minute, named, tenth, whole } from '#libs/format/format.js';
import { drawStamp } from '../diagram/draw-stamp.js';
import { packDiagram } from '../diagram/pack-diagram.js';
import { drawDiagram } from '../diagram/draw-diagram.js';

/** A lot's page: its diagram, its figures, every reading as typed, what was found and done, its history. */
export async function drawLotPage(
  paper: Paper,
  season: Season,
  lot: SeasonLot,
  under?: PDFKit.PDFOutline,
): Promise<void> {
  const section = openSection(paper, `Lot ${lot.lot}`, { newPage: true, ...(under ? { under } : {}) });
  drawDiagram(paper, section.element, packDiagram(season, lot));
  stampLot(paper, section, lot);
  paper.yPt += 8;
  paragraph(section, lotSentence(season, lot), { widthPt: paper.widthPt });
  paragraph(section, jarSentence(lot), { widthPt: paper.widthPt, afterPt: 8 });
  await drawReadings(section, season, lot);
  await drawFindings(section, season, lot);
  if (lot.history.length > 0) {
    await table(
      section,
      historyTable(season),
      [...lot.history].sort((one, other) => one.entry - other.entry),
    );
  }
  closeSection(section);
}

function stampLot(paper: Paper, section: Section, lot: SeasonLot): void {
  const at = { xPt: paper.leftPt + paper.widthPt - 90, yPt: paper.topPt + 2, scale: 0.6 };
  if (lot.status === 'held') drawStamp(paper, section.element, 'HELD', '', at);
  if (lot.status === 'recalled') drawStamp(paper, section.element, 'RECALLED', '', at);
  if (lot.status === 'released' && lot.released)
    drawStamp(paper, section.element, 'RELEASED', `${lot.released.by} ${day(lot.released.at)}`, at);
}

function lotSentence(season: Season, lot: SeasonLot): string {
  const from = lot.inputs.map((input) => `${input.volumeTyped} of ${input.code}`).join(', ');
  const parts = [
    `Packed ${minute(lot.packedAt)} by ${named(lot.by, season.people)} from ${from || lot.boils.join(', ')}: ` +
      `${many(lot.jarsMade, lot.container, `× ${lot.container}`)}.`,
    lot.containerPrep === null
      ? 'How the containers were prepared is not recorded.'
      : `Containers: ${lot.containerPrep}.`,
    `Bench checklist: ${lot.atTheBench ?? 'not recorded'}.`,
    lot.colour === null
      ? 'Colour: not recorded.'
      : `Colour ${lot.colour}${lot.transmittancePercent === null ? '' : `, transmittance ${lot.transmittancePercent} %`}.`,
    lot.brix === null
      ? ''
      : `Density ${tenth(lot.brix)} °Bx at 20 °C${lot.brixUncertainty === null ? '' : ` ± ${tenth(lot.brixUncertainty)}`}.`,
    lot.clarity === null ? '' : `Clarity: ${lot.clarity}.`,
    lot.offFlavour === null ? '' : `Off-flavour: ${lot.offFlavour}.`,
    lot.allergens.length === 0 ? '' : `Allergens: ${lot.allergens.join(', ')}.`,
    lot.statusWhy === null ? '' : `${lot.status === 'recalled' ? 'Recalled' : 'Held'}: ${lot.statusWhy}`,
    ...(lot.declared ?? []).map(({ label, text }) => (text === null ? '' : `${label}: ${text}.`)),
    lot.note === null ? '' : `Note: ${lot.note}`,
  ];
  return parts.filter((part) => part !== '').join(' ');
}

function jarSentence(lot: SeasonLot): string {
  const seals =
    lot.sealsFailed === null
      ? 'seal check not recorded'
      : `${many(lot.sealsFailed, 'seal')} failed${lot.sealsOutcome === null ? '' : ` (${lot.sealsOutcome})`}`;
  const unaccounted =
    lot.unaccounted === null ? 'shelf count not recorded' : `${whole(lot.unaccounted)} unaccounted for`;
  return (
    `Jars: ${whole(lot.jarsMade)} made; ${whole(lot.jarsOnHand)} on hand, ${whole(lot.jarsSentOut)} sent out, ` +
    `${whole(lot.jarsDestroyed)} destroyed, ${whole(lot.jarsOther)} kept, retained, samples, broken or returned; ${unaccounted}; ${seals}.`
  );
}

async function drawReadings(section: Section, season: Season, lot: SeasonLot): Promise<void> {
  const boils = season.boils.filter((boil) => lot.boils.includes(boil.lot));
  const rows = [
    ...boils.flatMap((boil) => boil.readings.map((reading) => ({ of: boil.lot, reading }))),
    ...season.draws
      .filter((draw) => lot.inputs.some((input) => input.code === draw.id) || lot.boils.includes(draw.boil))
      .flatMap((draw) => draw.readings.map((reading) => ({ of: draw.id, reading }))),
    ...lot.readings.map((reading) => ({ of: lot.lot, reading })),
  ];
  if (rows.length === 0) paragraph(section, 'No readings are recorded.');
  else await table(section, readingTable(season), rows);
}

interface ReadingRow {
  readonly of: string;
  readonly reading: Reading;
}

function readingTable(season: Season): readonly TableColumn<ReadingRow>[] {
  return [
    { heading: 'Lot or draw', of: (row) => row.of, face: 'code' },
    { heading: 'Measurement', of: (row) => row.reading.kind },
    { heading: 'Reading', of: (row) => row.reading.typed, align: 'right', face: 'boldFigures' },
    { heading: 'When', of: (row) => minute(row.reading.takenAt) || 'not recorded', face: 'figures' },
    {
      heading: 'With',
      of: (row) => `${row.reading.instrument ?? 'not recorded'}${row.reading.isSuspect ? ', suspect' : ''}`,
      face: 'code',
    },
    { heading: 'By', of: (row) => named(row.reading.by, season.people) },
  ];
}

async function drawFindings(section: Section, season: Season, lot: SeasonLot): Promise<void> {
  for (const finding of lot.findings)
    paragraph(
      section,
      `${finding.stop ? 'Hold rule' : 'Advisory'}: ${finding.found}. Limit: ${finding.limit}. Source: ${finding.source}.`,
    );
  for (const act of lot.correctiveActions)
    paragraph(
      section,
      `${minute(act.at)}, ${named(act.by, season.people)}: found ${act.found}; done: ${act.done}` +
        (act.readings.length === 0 ? '' : ` New readings: ${act.readings.map((reading) => reading.typed).join(', ')}.`),
    );
  for (const late of lot.lateEntries)
    paragraph(
      section,
      `Entered ${tenth(late.hoursLate)} h late: ${late.field} of ${minute(late.happenedAt)}, entered ${minute(late.typedAt)}.`,
      {
        colour: ink.soft,
      },
    );
}

/** A correction shows the old value struck through and the new one. */
function historyTable(season: Season): readonly TableColumn<HistoryLine>[] {
  return [
    { heading: 'Entry', of: (line) => whole(line.entry), align: 'right' },
    { heading: 'When', of: (line) => minute(line.at), face: 'figures' },
    { heading: 'Who', of: (line) => named(line.by, season.people) },
    { heading: 'What', of: (line) => line.words },
    { heading: 'Was', of: (line) => line.was ?? '', style: () => ({ strike: true }) },
    { heading: 'Now', of: (line) => line.now ?? '', face: 'bold' },
    { heading: 'Why', of: (line) => line.why ?? '' },
  ];
}
