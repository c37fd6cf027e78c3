import { litres, number, sheet, text, time, type SeasonSheet } from './sheet.js';
import { sapBoiled } from './totals.js';

/** What was recorded of sap, syrup and jars: one sheet for each kind of record, in the order of the work. */
export const recordSheets: readonly SeasonSheet[] = [
  ({ boils }) =>
    sheet('Boils', boils, [
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
  ({ gatherings }) =>
    sheet('Gatherings', gatherings, [
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
  ({ receipts }) =>
    sheet('Receipts', receipts, [
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
  ({ draws }) =>
    sheet('Draws', draws, [
      text('Draw', 10, (one) => one.id),
      text('Boil', 10, (one) => one.boil),
      time('Drawn', (one) => one.drawnAt),
      text('Volume as written', 14, (one) => one.volumeTyped),
      number('Volume (L)', (one) => litres(one.millilitres)),
      text('Filter', 16, (one) => one.filterMedium),
      text('Vessel', 16, (one) => one.vessel),
      text('By', 6, (one) => one.by),
    ]),
  ({ dispatches }) =>
    sheet('Dispatches', dispatches, [
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
  ({ counts }) =>
    sheet('Counts', counts, [
      text('Count', 10, (one) => one.id),
      text('Lot', 12, (one) => one.lot),
      number('Counted (jars)', (one) => one.jars),
      time('Counted at', (one) => one.countedAt),
      text('By', 6, (one) => one.by),
    ]),
  ({ spent }) =>
    sheet('Used or thrown out', spent, [
      text('Id', 10, (one) => one.id),
      text('Lot', 12, (one) => one.lot),
      text('What became of it', 14, (one) => one.how),
      text('Volume as written', 14, (one) => one.volumeTyped),
      number('Volume (L)', (one) => litres(one.millilitres)),
      time('When', (one) => one.at),
      text('Why', 30, (one) => one.why),
      text('By', 6, (one) => one.by),
    ]),
];
