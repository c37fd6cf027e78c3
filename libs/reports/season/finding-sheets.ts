import { ruleTitle } from '#libs/syrup/rules/rules.js';
import { doneText, endText } from './deviations.js';
import { formatVerdict } from './field-changes.js';
import { risksOf } from './risks.js';
import { number, sheet, text, time, type SeasonSheet } from './sheet.js';
import { seasonChanges, seasonDeviations, seasonLate } from './totals.js';
import { unrecorded } from './unrecorded.js';

/** What an inspector looks for in the records: broken rules and what was done, changes, and what is missing. */
export const findingSheets: readonly SeasonSheet[] = [
  ({ lots }) =>
    sheet(
      'Findings',
      lots.flatMap((lot) => lot.findings.map((finding) => ({ lot: lot.lot, finding }))),
      [
        text('Lot', 12, (row) => row.lot),
        text('Hold rule or advisory', 12, (row) => (row.finding.stop ? 'hold rule' : 'advisory')),
        text('Rule', 24, (row) => ruleTitle(row.finding.rule)),
        text('Found', 30, (row) => row.finding.found),
        text('Limit', 34, (row) => row.finding.limit),
        text('Source', 34, (row) => row.finding.source),
      ],
    ),
  ({ lots }) =>
    sheet(
      'Corrective actions',
      lots.flatMap((lot) => lot.correctiveActions.map((act) => ({ lot: lot.lot, act }))),
      [
        text('Lot', 12, (row) => row.lot),
        time('When', (row) => row.act.at),
        text('Found', 30, (row) => row.act.found),
        text('Done', 50, (row) => row.act.done),
        text('New readings', 20, (row) => row.act.readings.map((reading) => reading.typed).join('; ')),
        text('By', 6, (row) => row.act.by),
      ],
    ),
  ({ lots }) =>
    sheet(
      'Changes',
      lots.flatMap((lot) => lot.history.map((line) => ({ lot: lot.lot, line }))),
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
  (season) =>
    sheet('Deviations', seasonDeviations(season), [
      text('Lot', 12, (each) => each.lot),
      text('Rule', 24, (each) => ruleTitle(each.rule)),
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
  (season) =>
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
  (season) =>
    sheet('Late entries', seasonLate(season), [
      text('Lot', 12, (late) => late.lot),
      text('Entry', 14, (late) => late.field),
      time('Happened', (late) => late.happenedAt),
      time('Written', (late) => late.typedAt),
      number('Hours late', (late) => late.hoursLate),
    ]),
  (season) =>
    sheet('Not recorded', unrecorded(season), [
      text('What', 34, (each) => each.matter),
      text('Of', 60, (each) => each.of.join('; ') || 'the season'),
    ]),
  (season) =>
    sheet('To ask about', risksOf(season), [
      text('Matter', 12, (risk) => risk.matter),
      text('Of', 24, (risk) => risk.of),
      text('Recorded', 40, (risk) => risk.recorded),
      text('Asks', 40, (risk) => risk.asks),
    ]),
];
