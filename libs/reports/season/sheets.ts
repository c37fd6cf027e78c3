import { titleOf } from '#libs/syrup/rules/rules.js';
import { formatVerdict } from './field-changes.js';
import { lotColumns } from '../lot/summary-columns.js';
import { doneText, endText } from './deviations.js';
import { keyLines } from './key.js';
import { risksOf } from './risks.js';
import { supportingRecordSheets } from './supporting-record-sheets.js';
import { sapBoiled, seasonChanges, seasonDeviations, seasonLate, seasonTotals } from './totals.js';
import { unrecorded } from './unrecorded.js';
import type { Season } from './season.js';
import { litres, number, sheet, text, time, type Sheet } from './sheet.js';
import { readingSheet, transformationSheet } from './transformation-sheets.js';

/** One sheet per kind of record, each complete for sorting on its own, and the key to the codes last. */
export function seasonSheets(season: Season): readonly Sheet[] {
  return [
    sheet('Lots', season.lots, lotColumns(season.lots)),
    transformationSheet(season),
    sheet('Boils', season.boils, [
      text('Boil', 10, (boil) => boil.lot),
      time('Began', (boil) => boil.beganAt),
      time('Finished', (boil) => boil.finishedAt),
      text('Sap as written', 14, (boil) => boil.sapVolumeTyped),
      number('Sap (L)', (boil) => litres(sapBoiled(boil))),
      text('Sap sugar as read', 12, (boil) => boil.sapSugarTyped),
      text('Syrup as written', 14, (boil) => boil.syrupVolumeTyped),
      number('Syrup (L)', (boil) => litres(boil.syrupMillilitres)),
      text('Filter', 16, (boil) => boil.filterMedium),
      text('Defoamer', 18, (boil) => boil.defoamer),
      text('Allergens', 14, (boil) => boil.defoamerAllergens),
      time('Rested from', (boil) => boil.restedFrom),
      time('Rested until', (boil) => boil.restedUntil),
      text('By', 6, (boil) => boil.by),
      text('Note', 30, (boil) => boil.note),
    ]),
    sheet('Gatherings', season.gatherings, [
      text('Gathering', 10, (one) => one.id),
      time('Gathered', (one) => one.gatheredAt),
      text('From', 20, (one) => one.source),
      text('Volume as written', 14, (one) => one.volumeTyped),
      number('Volume (L)', (one) => litres(one.millilitres)),
      text('Condition', 16, (one) => one.condition),
      text('By', 6, (one) => one.by),
      text('Ticked', 22, (one) => one.handling ?? null),
      text('Thrown out', 14, (one) => one.thrownOutTyped ?? null),
    ]),
    sheet('Receipts', season.receipts, [
      text('Receipt', 10, (one) => one.id),
      text('Supplier', 24, (one) => one.supplier),
      text('Contact', 18, (one) => one.contact),
      text('Their lot', 12, (one) => one.theirLot),
      text('Volume as written', 14, (one) => one.volumeTyped),
      number('Volume (L)', (one) => litres(one.millilitres)),
      text('Density as read', 12, (one) => one.densityTyped),
      time('Received', (one) => one.receivedAt),
      text('By', 6, (one) => one.by),
    ]),
    sheet('Draws', season.draws, [
      text('Draw', 10, (one) => one.id),
      text('Boil', 10, (one) => one.boil),
      time('Drawn', (one) => one.drawnAt),
      text('Volume as written', 14, (one) => one.volumeTyped),
      number('Volume (L)', (one) => litres(one.millilitres)),
      text('Filter', 16, (one) => one.filterMedium),
      text('Vessel', 16, (one) => one.vessel),
      text('By', 6, (one) => one.by),
    ]),
    sheet('Dispatches', season.dispatches, [
      text('Dispatch', 10, (one) => one.id),
      text('Lot', 12, (one) => one.lot),
      number('Quantity (jars)', (one) => one.jars),
      text('Jar codes', 30, (one) => one.jarCodes.join('; ')),
      time('Sent', (one) => one.sentAt),
      text('To', 26, (one) => one.to),
      text('Kind', 14, (one) => one.how ?? 'not recorded'),
      text('Counted as', 10, (one) => one.kind),
      text('Contact', 18, (one) => one.contact),
      text('Plan or fact', 10, (one) => (one.planned ? 'plan' : 'fact')),
      text('By', 6, (one) => one.by),
    ]),
    sheet('Counts', season.counts, [
      text('Count', 10, (one) => one.id),
      text('Lot', 12, (one) => one.lot),
      number('Counted (jars)', (one) => one.jars),
      time('Counted at', (one) => one.countedAt),
      text('By', 6, (one) => one.by),
    ]),
    sheet('Used or thrown out', season.spent, [
      text('Id', 10, (one) => one.id),
      text('Lot', 12, (one) => one.lot),
      text('What became of it', 14, (one) => one.how),
      text('Volume as written', 14, (one) => one.volumeTyped),
      number('Volume (L)', (one) => litres(one.millilitres)),
      time('When', (one) => one.at),
      text('Why', 30, (one) => one.why),
      text('By', 6, (one) => one.by),
    ]),
    readingSheet(season),
    sheet(
      'Findings',
      season.lots.flatMap((lot) => lot.findings.map((finding) => ({ lot: lot.lot, finding }))),
      [
        text('Lot', 12, (row) => row.lot),
        text('Hold rule or advisory', 12, (row) => (row.finding.stop ? 'hold rule' : 'advisory')),
        text('Rule', 24, (row) => titleOf(row.finding.rule)),
        text('Found', 30, (row) => row.finding.found),
        text('Limit', 34, (row) => row.finding.limit),
        text('Source', 34, (row) => row.finding.source),
      ],
    ),
    sheet(
      'Corrective actions',
      season.lots.flatMap((lot) => lot.correctiveActions.map((act) => ({ lot: lot.lot, act }))),
      [
        text('Lot', 12, (row) => row.lot),
        time('When', (row) => row.act.at),
        text('Found', 30, (row) => row.act.found),
        text('Done', 50, (row) => row.act.done),
        text('New readings', 20, (row) => row.act.readings.map((reading) => reading.typed).join('; ')),
        text('By', 6, (row) => row.act.by),
      ],
    ),
    sheet(
      'Changes',
      season.lots.flatMap((lot) => lot.history.map((line) => ({ lot: lot.lot, line }))),
      [
        text('Lot', 12, (row) => row.lot),
        number('Entry', (row) => row.line.entry),
        time('When', (row) => row.line.at),
        text('By', 6, (row) => row.line.by),
        text('What', 40, (row) => row.line.words),
        text('Was', 14, (row) => row.line.was),
        text('Now', 14, (row) => row.line.now),
        text('Why', 30, (row) => row.line.why),
      ],
    ),
    sheet('Deviations', seasonDeviations(season), [
      text('Lot', 12, (each) => each.lot),
      text('Rule', 24, (each) => titleOf(each.rule)),
      text('Found', 36, (each) => each.found),
      text('Limit', 34, (each) => each.limit),
      text('Source', 34, (each) => each.source),
      text('Jars', 18, (each) => each.jars ?? 'the whole lot'),
      time('Found at', (each) => each.foundAt),
      text('Found by', 8, (each) => each.foundBy),
      time('Held since', (each) => each.heldAt),
      text('Done', 50, (each) => doneText(each)),
      text('New readings', 24, (each) => each.readAgain.join('; ')),
      time('Released', (each) => each.released?.at ?? null),
      text('Released by', 8, (each) => each.released?.by ?? null),
      text('Open', 6, (each) => (each.open ? 'yes' : 'no')),
      text('Ended', 40, (each) => endText(each)),
    ]),
    sheet('Corrections', seasonChanges(season), [
      text('Lot', 12, (change) => change.lot),
      time('When', (change) => change.at),
      text('By', 8, (change) => change.by),
      text('Record', 18, (change) => change.record),
      text('Fields', 18, (change) => change.changes.map(({ field }) => field).join('; ')),
      text('Was', 24, (change) => change.changes.map(({ was }) => was ?? 'not recorded').join('; ')),
      text('Now', 24, (change) => change.changes.map(({ now }) => now ?? 'not recorded').join('; ')),
      text('Why', 30, (change) => change.why),
      text('Verdict before', 40, (change) => formatVerdict(change.before)),
      text('Verdict after', 40, (change) => formatVerdict(change.after)),
    ]),
    sheet('Late entries', seasonLate(season), [
      text('Lot', 12, (late) => late.lot),
      text('Entry', 14, (late) => late.field),
      time('Happened', (late) => late.happenedAt),
      time('Written', (late) => late.typedAt),
      number('Hours late', (late) => late.hoursLate),
    ]),
    sheet('Not recorded', unrecorded(season), [
      text('What', 34, (each) => each.matter),
      text('Of', 60, (each) => each.of.join('; ') || 'the season'),
    ]),
    sheet('To ask about', risksOf(season), [
      text('Matter', 12, (risk) => risk.matter),
      text('Of', 24, (risk) => risk.of),
      text('Recorded', 40, (risk) => risk.recorded),
      text('Asks', 40, (risk) => risk.asks),
    ]),
    sheet('Totals', Object.entries({ ...seasonTotals(season) }), [
      text('Total', 20, ([name]) => name),
      number('Amount', ([, amount]) => amount),
    ]),
    ...supportingRecordSheets(season),
    sheet('Key to the codes', keyLines(season), [
      text('Code', 14, (line) => line.code),
      text('Meaning', 70, (line) => line.means),
    ]),
  ];
}
