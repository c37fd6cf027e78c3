import { checkText, lastLeadTest, leadAsks, mayHoldLead, mixedAsks } from './risks.js';
import type { Equipment, LeadTest, OtherRecords } from './supporting-records.js';
import { day } from '#libs/format/format.js';
import { number, sheet, text, time, type SeasonSheet, type Sheet } from './sheet.js';
import type { Season } from './season.js';

/** Supporting records, one sheet per kind; a kind without records keeps its headings. */
export const supportingRecordSheets = (season: Season): readonly Sheet[] => [
  ...supportingSheets.map((sheetOf) => sheetOf(season)),
  ...season.side.others.map(otherSheet),
];

const supportingSheets: readonly SeasonSheet[] = [
  ({ side }) =>
    sheet('Instruments', side.instruments, [
      text('Instrument', 12, (one) => one.id),
      text('Kind', 14, (one) => one.kind),
      text('What it is', 30, (one) => one.description),
    ]),
  ({ side }) =>
    sheet('Instrument checks', side.instrumentChecks, [
      text('Instrument', 12, (one) => one.instrument),
      time('Checked', (one) => one.checkedAt),
      text('Against', 16, (one) => one.against),
      text('Should read', 12, (one) => one.expectedTyped),
      text('Read', 12, (one) => one.foundTyped),
      text('Found', 18, checkText),
      text('Suspect lots', 24, (one) => one.suspectLots.join('; ')),
      text('By', 6, (one) => one.by),
    ]),
  ({ side }) =>
    sheet('Cleaning', side.cleanings, [
      time('When', (one) => one.at),
      text('What', 24, (one) => one.what),
      text('With', 22, (one) => one.withWhat),
      text('Strength', 12, (one) => one.strength),
      text('Rinsed', 20, (one) => one.rinsed),
      text('Advisory', 30, (one) => (one.mixed ? mixedAsks[one.mixed] : null)),
      text('By', 6, (one) => one.by),
    ]),
  ({ side }) =>
    sheet('Filters washed', side.filterWashings, [
      time('When', (one) => one.at),
      text('Filter', 20, (one) => one.filter),
      text('How', 34, (one) => one.how),
      text('By', 6, (one) => one.by),
    ]),
  ({ side }) =>
    sheet('Containers and lids', side.supplies, [
      text('Id', 8, (one) => one.id),
      text('What', 24, (one) => one.item),
      text('Supplier', 24, (one) => one.supplier),
      text('Their lot', 14, (one) => one.supplierLot),
      time('Received', (one) => one.receivedAt),
      text('Used in lots', 30, (one) => one.lots.join('; ')),
    ]),
  ({ side }) =>
    sheet('Defoamers', side.defoamers, [
      text('What', 24, (one) => one.name),
      text('Allergens', 24, (one) => one.allergens),
    ]),
  ({ side }) =>
    sheet('Equipment', side.equipment, [
      text('Id', 8, (one) => one.id),
      text('What', 24, (one) => one.name),
      text('Material', 28, (one) => one.material),
      text('Year', 8, (one) => one.year),
      text('Solder, terneplate or galvanized parts', 28, (one) => one.solder),
      text('Note', 28, (one) => one.note),
      text('Lead', 28, (one) => leadCell(side.leadTests, one)),
    ]),
  ({ side }) =>
    sheet('Licences', side.licences, [
      text('What', 24, (one) => one.what),
      text('Number', 18, (one) => one.number),
      text('Valid until', 16, (one) => one.until),
    ]),
  ({ side }) =>
    sheet('Water tests', side.waterTests, [
      time('When', (one) => one.at),
      text('Water', 20, (one) => one.source),
      text('Tested by', 24, (one) => one.laboratory),
      text('Outcome', 30, (one) => one.outcome),
    ]),
  ({ side }) =>
    sheet('Lead tests', side.leadTests, [
      time('When', (one) => one.at),
      text('Lot', 12, (one) => one.lot),
      text('Equipment', 16, (one) => one.equipment),
      text('Tested by', 24, (one) => one.laboratory),
      text('Lead as reported', 16, (one) => one.typed),
      number('Lead (ppb)', (one) => one.ppb),
    ]),
  ({ side }) =>
    sheet('Mock recalls', side.practiceRecalls, [
      time('When', (one) => one.at),
      text('Lot', 12, (one) => one.lot),
      number('Took (min)', (one) => one.minutes),
      number('Made (jars)', (one) => one.jarsMade),
      number('Found (jars)', (one) => one.jarsFound),
      number('Counted by a person (jars)', (one) => one.counted),
      text('Outcome', 40, (one) => one.words),
      text('By', 6, (one) => one.by),
    ]),
  ({ side }) =>
    sheet('Complaints', side.complaints, [
      time('When', (one) => one.at),
      text('Lot or jar', 12, (one) => one.code),
      text('What the customer said', 40, (one) => one.words),
      text('What was seen', 40, (one) => one.seen),
      text('What was done', 40, (one) => one.done),
      text('By', 6, (one) => one.by),
    ]),
  ({ side }) =>
    sheet('People and training', side.trainings, [
      time('When', (one) => one.at),
      text('Initials', 8, (one) => one.initials),
      text('In what', 34, (one) => one.subject),
    ]),
];

/** A kind that has no sheet of its own, by the columns that it declares. */
const otherSheet = ({ name, columns, rows }: OtherRecords): Sheet =>
  sheet(name, rows, [
    time('When', (one) => one.at),
    ...columns.map((column, n) => text<(typeof rows)[number]>(column, 24, (one) => one.cells[n] ?? null)),
    text('By', 6, (one) => one.by),
  ]);

/** The newest result for the piece, else what is needed where it may contain lead. */
function leadCell(tests: readonly LeadTest[], one: Equipment): string | null {
  const last = lastLeadTest(tests, one);
  if (last) return `${last.typed}, ${day(last.at)}`;
  return mayHoldLead(one) ? leadAsks : null;
}
