import { closeSection, openSection, paragraph } from './pdf-flow.js';
import type { Paper } from './pdf-paper.js';
import { table, type TableColumn } from './pdf-table.js';
import type { Season } from './season.js';
import { day, minute, named } from './shown.js';

/** Everything that stands beside the boils: a table a kind, or a sentence where nothing is written down. */
export async function drawSideRecords(paper: Paper, season: Season): Promise<void> {
  const side = season.side;
  const by = (row: { readonly by: string }): string => named(row.by, season.people);
  await sideTable(paper, 'Instrument checks', side.instrumentChecks, [
    { heading: 'Instrument', of: (check) => check.instrument, face: 'boldCode' },
    { heading: 'What it is', of: (check) => instrumentWords(season, check.instrument) },
    { heading: 'Checked', of: (check) => minute(check.checkedAt), face: 'figures' },
    { heading: 'Against', of: (check) => check.against },
    { heading: 'Should read', of: (check) => check.expectedTyped, align: 'right' },
    { heading: 'Read', of: (check) => check.foundTyped, align: 'right' },
    {
      heading: 'Found',
      of: (check) => (check.pass ? 'in tolerance' : 'OUT OF TOLERANCE'),
      mark: (check) => (check.pass ? {} : { face: 'bold' }),
    },
    { heading: 'Lots in doubt', of: (check) => check.lotsInDoubt.join(', '), face: 'code' },
    { heading: 'By', of: by },
  ]);
  await sideTable(paper, 'Instruments', side.instruments, [
    { heading: 'Id', of: (one) => one.id, face: 'boldCode' },
    { heading: 'Kind', of: (one) => one.kind },
    { heading: 'What it is', of: (one) => one.description },
  ]);
  await sideTable(paper, 'Cleaning', side.cleanings, [
    { heading: 'When', of: (one) => minute(one.at), face: 'figures' },
    { heading: 'What', of: (one) => one.what },
    { heading: 'With', of: (one) => one.withWhat },
    { heading: 'Strength', of: (one) => one.strength ?? 'not written down' },
    { heading: 'Rinsed', of: (one) => (one.rinsed === null ? 'not written down' : one.rinsed ? 'yes' : 'no') },
    { heading: 'By', of: by },
  ]);
  await sideTable(paper, 'Filters washed', side.filterWashings, [
    { heading: 'When', of: (one) => minute(one.at), face: 'figures' },
    { heading: 'Filter', of: (one) => one.filter },
    { heading: 'How', of: (one) => one.how },
    { heading: 'By', of: by },
  ]);
  await drawSupplies(paper, season);
  await sideTable(paper, 'Water tests', side.waterTests, [
    { heading: 'When', of: (one) => day(one.at), face: 'figures' },
    { heading: 'Water', of: (one) => one.source },
    { heading: 'Tested by', of: (one) => one.laboratory },
    { heading: 'Outcome', of: (one) => one.outcome },
  ]);
  await sideTable(paper, 'Practice recalls', side.practiceRecalls, [
    { heading: 'When', of: (one) => minute(one.at), face: 'figures' },
    { heading: 'Lot', of: (one) => one.lot, face: 'boldCode' },
    { heading: 'Took', of: (one) => (one.minutes === null ? '' : `${one.minutes} min`), align: 'right' },
    { heading: 'Made', of: (one) => (one.closed ? String(one.jarsMade) : ''), align: 'right' },
    { heading: 'Found', of: (one) => (one.closed ? String(one.jarsFound) : ''), align: 'right' },
    { heading: 'Outcome', of: (one) => one.words },
    { heading: 'By', of: by },
  ]);
  await sideTable(paper, 'Complaints', side.complaints, [
    { heading: 'When', of: (one) => minute(one.at), face: 'figures' },
    { heading: 'Lot or jar', of: (one) => one.code ?? '', face: 'code' },
    { heading: 'What was said', of: (one) => one.words },
    { heading: 'What was seen', of: (one) => one.seen },
    { heading: 'What was done', of: (one) => one.done },
    { heading: 'By', of: by },
  ]);
  await sideTable(paper, 'People and hygiene training', side.trainings, [
    { heading: 'When', of: (one) => day(one.at), face: 'figures' },
    { heading: 'Who', of: (one) => named(one.initials, season.people) },
    { heading: 'In what', of: (one) => one.subject },
  ]);
}

async function drawSupplies(paper: Paper, season: Season): Promise<void> {
  const { supplies, defoamers, equipment } = season.side;
  await sideTable(paper, 'Containers and lids, one step back', supplies, [
    { heading: 'Id', of: (one) => one.id, face: 'boldCode' },
    { heading: 'What', of: (one) => one.item },
    { heading: 'From', of: (one) => one.supplier },
    { heading: 'Their lot', of: (one) => one.supplierLot ?? 'not written down', face: 'code' },
    { heading: 'Received', of: (one) => day(one.receivedAt), face: 'figures' },
    { heading: 'Used in lots', of: (one) => one.lots.join(', '), face: 'code' },
  ]);
  await sideTable(paper, 'Defoamers', defoamers, [
    { heading: 'What', of: (one) => one.name },
    { heading: 'Allergens', of: (one) => one.allergens ?? 'not written down' },
  ]);
  await sideTable(paper, 'Equipment', equipment, [
    { heading: 'What', of: (one) => one.name },
    { heading: 'Of', of: (one) => one.material },
    { heading: 'Year', of: (one) => one.year ?? 'not known' },
    { heading: 'Lead', of: (one) => one.leadRisk ?? 'no risk known' },
  ]);
}

async function sideTable<Row>(
  paper: Paper,
  heading: string,
  rows: readonly Row[],
  columns: readonly TableColumn<Row>[],
): Promise<void> {
  const section = openSection(paper, heading, { level: 2, needsPt: 46 });
  if (rows.length === 0) paragraph(section, 'Nothing written down for this season.');
  else await table(section, columns, rows);
  closeSection(section);
}

function instrumentWords(season: Season, id: string): string {
  const instrument = season.side.instruments.find((one) => one.id === id);
  return instrument ? `${instrument.kind}: ${instrument.description}` : '';
}
