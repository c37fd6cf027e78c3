import type { Deviation, VerdictChange } from './deviation.js';
import { deviationEnd } from './page-one-text.js';
import { closeSection, openSection, paragraph, type Section } from '#libs/pdf/flow.js';
import type { Paper } from '#libs/pdf/paper.js';
import { compact, rowsThatFit, table, type TableColumn } from '#libs/pdf/table.js';
import { formatChanges } from './field-changes.js';
import { seasonChanges, seasonDeviations, seasonLate } from './totals.js';
import type { LotFinding } from './lot.js';
import type { Season } from './season.js';
import { minute, tenth } from '#libs/format/format.js';

/** Every hold rule broken, hold by hand and recall, one row from first to last; corrections; what was written late. */
export async function drawDeviations(paper: Paper, season: Season): Promise<void> {
  const section = openSection(paper, 'Deviations and what was done', { newPage: true });
  const deviations = seasonDeviations(season);
  if (deviations.length === 0) paragraph(section, 'No lot of this season was held or recalled.');
  else await table(section, deviationTable, deviations, compact);
  await drawChanges(section, season);
  await drawAdvisories(section, season);
  await drawLate(section, season);
  closeSection(section);
}

export const deviationTable: readonly TableColumn<Deviation>[] = [
  { heading: 'Lot', of: (each) => each.lot, face: 'boldCode' },
  { heading: 'Hold rule', of: (each) => each.rule },
  { heading: 'Found', of: (each) => `${each.found} (${minute(each.foundAt)}, ${each.foundBy})` },
  {
    heading: 'Limit',
    of: (each) => each.limit || (each.kind === 'recall' ? 'recalled by a person' : 'held by a person'),
  },
  { heading: 'Jars', of: (each) => each.jars ?? 'the whole lot' },
  { heading: 'Held since', of: (each) => (each.heldAt === null ? 'not held' : minute(each.heldAt)) },
  { heading: 'Done', of: (each) => doneText(each) },
  { heading: 'Read again', of: (each) => each.readAgain.join('; ') || 'not recorded' },
  {
    heading: 'How it ended',
    of: (each) => endText(each),
    mark: (each) => (each.open ? { face: 'bold' } : {}),
  },
];

export const doneText = (each: Deviation): string =>
  [
    ...each.done.map((step) => `${minute(step.at)} ${step.by}: ${step.words}`),
    ...(each.cleared
      ? [`${minute(each.cleared.at)} ${each.cleared.by}: no longer found, by ${each.cleared.through}`]
      : []),
  ].join('; ') || 'not recorded';

export function endText(each: Deviation): string {
  if (each.released) return `released ${minute(each.released.at)} by ${each.released.by}: ${each.released.why}`;
  return [deviationEnd(each), each.open && each.wayOut ? each.wayOut : ''].filter(Boolean).join('. ');
}

async function drawChanges(section: Section, season: Season): Promise<void> {
  const changes = seasonChanges(season);
  paragraph(section, 'Corrections that changed a verdict', { face: 'bold', sizePt: 11 });
  if (changes.length === 0) paragraph(section, 'None.', { sizePt: 8.5 });
  else await table(section, changeTable, changes, compact);
}

export const changeTable: readonly TableColumn<VerdictChange>[] = [
  { heading: 'Lot', of: (change) => change.lot, face: 'boldCode' },
  { heading: 'When', of: (change) => minute(change.at), face: 'figures' },
  { heading: 'By', of: (change) => change.by },
  { heading: 'Corrected', of: (change) => change.record },
  { heading: 'Was → is', of: formatChanges, mark: () => ({ face: 'bold' }) },
  { heading: 'Why', of: (change) => change.why ?? 'not recorded' },
  { heading: 'Verdict before', of: (change) => change.before },
  { heading: 'Verdict after', of: (change) => change.after },
];

interface Advisory {
  readonly lot: string;
  readonly finding: LotFinding;
}

/** What a rule advises without holding the lot. */
async function drawAdvisories(section: Section, season: Season): Promise<void> {
  const all = [...season.boils, ...season.lots].flatMap((lot) =>
    lot.findings.filter((finding) => !finding.stop).map((finding) => ({ lot: lot.lot, finding })),
  );
  if (all.length === 0) return;
  paragraph(section, 'Advisories, which hold nothing', { face: 'bold', sizePt: 11 });
  const byRule = new Map<string, Advisory[]>();
  for (const each of all) byRule.set(each.finding.rule, [...(byRule.get(each.finding.rule) ?? []), each]);
  await whatFits(section, advisoryTable, [...byRule.values()], 'Findings');
}

const advisoryTable: readonly TableColumn<readonly Advisory[]>[] = [
  { heading: 'Advisory', of: ([first]) => first?.finding.rule ?? '' },
  { heading: 'Lots', of: (each) => each.map(({ lot }) => lot).join(', '), face: 'code' },
  { heading: 'Found, of the first', of: ([first]) => first?.finding.found ?? '' },
  { heading: 'Limit', of: ([first]) => first?.finding.limit ?? '' },
];

async function drawLate(section: Section, season: Season): Promise<void> {
  const late = seasonLate(season);
  paragraph(section, 'Entries written more than a day late', { face: 'bold', sizePt: 11 });
  if (late.length === 0) return paragraph(section, 'None.', { sizePt: 8.5 });
  await whatFits(section, lateTable, late, 'Late entries');
}

/** As many rows as this page has room for: only the deviations themselves go on over as many pages as they need. */
async function whatFits<Row>(
  section: Section,
  columns: readonly TableColumn<Row>[],
  rows: readonly Row[],
  sheet: string,
): Promise<void> {
  const { paper } = section;
  const fit = rowsThatFit(paper, columns, rows, paper.bottomPt - paper.yPt - 16, compact);
  if (fit.rows > 0) await table(section, columns, rows.slice(0, fit.rows), compact);
  if (fit.rows < rows.length)
    paragraph(section, `${fit.rows > 0 ? 'and ' : ''}${rows.length - fit.rows} more, in the sheet “${sheet}”.`, {
      sizePt: 8.5,
    });
}

type Late = ReturnType<typeof seasonLate>[number];
const lateTable: readonly TableColumn<Late>[] = [
  { heading: 'Lot', of: (late) => late.lot, face: 'boldCode' },
  { heading: 'Entry', of: (late) => late.field },
  { heading: 'Happened', of: (late) => minute(late.happenedAt), face: 'figures' },
  { heading: 'Written', of: (late) => minute(late.typedAt), face: 'figures' },
  { heading: 'Hours late', of: (late) => tenth(late.hoursLate), align: 'right' },
];
