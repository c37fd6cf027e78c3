import { ruleTitle } from '#libs/syrup/rules/rules.js';
import type { Deviation, VerdictChange } from './deviation.js';
import { deviationEnd } from './page-one-text.js';
import { closeSection, openSection, paragraph, type Section } from '#libs/pdf/flow.js';
import { startPage, type Paper } from '#libs/pdf/paper.js';
import { compact, rowsThatFit, table, type TableColumn } from '#libs/pdf/table.js';
import { formatChanges, formatVerdict } from './field-changes.js';
import { seasonChanges, seasonDeviations, seasonLate } from './totals.js';
import type { LotFinding } from './lot.js';
import type { Season } from './season.js';
import { minute, tenth } from '#libs/format/format.js';

/**
 * Every hold rule broken, hold by hand and recall, one row each from found to ended; corrections; late entries. With
 * `maxPages` on at most that many pages: then open ones come first, and what has no room is counted.
 */
export async function drawDeviations(paper: Paper, season: Season, maxPages?: number): Promise<void> {
  const section = openSection(paper, 'Deviations and what was done', { newPage: true });
  const firstPage = paper.pages;
  const deviations = seasonDeviations(season);
  if (deviations.length === 0) paragraph(section, 'No hold or recall of this season’s lots is recorded.');
  else if (maxPages === undefined) await table(section, deviationTable, deviations, compact);
  else await drawUpTo(section, deviations, maxPages);
  const isLimited = maxPages !== undefined;
  const lastPage = isLimited ? firstPage + maxPages - 1 : Infinity;
  await drawChanges(section, season, isLimited ? { keepPt: 2 * headedPt, lastPage } : undefined);
  await drawAdvisories(section, season, { keepPt: isLimited ? headedPt : 0, lastPage });
  await drawLate(section, season, { keepPt: 0, lastPage });
  closeSection(section);
}

/** In order, but open ones first: where room ends, an open deviation must not be omitted. */
const openFirst = (deviations: readonly Deviation[]): readonly Deviation[] => [
  ...deviations.filter(({ open }) => open),
  ...deviations.filter(({ open }) => !open),
];

/** Room for a heading with one line below it; three of them follow the deviations. */
const headedPt = 38;

/** The deviations on at most this many pages including the current one, with room left on the last for what follows. */
async function drawUpTo(section: Section, deviations: readonly Deviation[], maxPages: number): Promise<void> {
  const { paper } = section;
  const firstTopPt = paper.yPt;
  const roomPt = (page: number): number =>
    paper.bottomPt - (page === 1 ? firstTopPt : paper.topPt) - (page === maxPages ? 3 * headedPt + 20 : 4);
  const fitsFrom = (rows: readonly Deviation[], page: number): number =>
    rowsThatFit(paper, deviationTable, rows, roomPt(page), compact).rows;
  let left = deviations;
  for (let page = 1; page <= maxPages; page += 1) left = left.slice(fitsFrom(left, page));
  left = left.length === 0 ? deviations : openFirst(deviations);
  for (let page = 1; page <= maxPages && left.length > 0; page += 1) {
    if (page > 1) startPage(paper);
    const fit = fitsFrom(left, page);
    if (fit > 0) await table(section, deviationTable, left.slice(0, fit), compact);
    left = left.slice(fit);
  }
  if (left.length === 0) return;
  const open = left.filter((each) => each.open).length;
  paragraph(section, `and ${left.length} more, ${open} of them still open, in the sheet “Deviations”.`, {
    sizePt: 8.5,
  });
}

export const deviationTable: readonly TableColumn<Deviation>[] = [
  { heading: 'Lot', of: (each) => each.lot, face: 'boldCode' },
  { heading: 'Hold rule', of: (each) => ruleTitle(each.rule) },
  { heading: 'Found', of: (each) => `${each.found} (${minute(each.foundAt)}, ${each.foundBy})` },
  {
    heading: 'Limit',
    of: (each) => each.limit || (each.kind === 'recall' ? 'recalled by a person' : 'held by a person'),
  },
  { heading: 'Jars', of: (each) => each.jars ?? 'the whole lot' },
  { heading: 'Held since', of: (each) => (each.heldAt === null ? 'not held' : minute(each.heldAt)) },
  { heading: 'Done', of: (each) => doneText(each) },
  { heading: 'New readings', of: (each) => each.readAgain.join('; ') || 'not recorded' },
  {
    heading: 'Outcome',
    of: (each) => endText(each),
    style: (each) => (each.open ? { face: 'bold' } : {}),
  },
];

/** What was done about a deviation, each step with when and by whom. */
export const doneText = (each: Deviation): string =>
  [
    ...each.done.map((step) => `${minute(step.at)} ${step.by}: ${step.words.replace(/\.$/, '')}`),
    ...(each.cleared
      ? [`${minute(each.cleared.at)} ${each.cleared.by}: no longer applies, cleared by ${each.cleared.through}`]
      : []),
  ].join('; ') || 'not recorded';

/** How a deviation ended; for an open one, what would end it. */
export function endText(each: Deviation): string {
  if (each.released) return `released ${minute(each.released.at)} by ${each.released.by}: ${each.released.why}`;
  return [deviationEnd(each), each.open && !each.cleared && each.wayOut ? each.wayOut : ''].filter(Boolean).join('. ');
}

async function drawChanges(section: Section, season: Season, room: Room | undefined): Promise<void> {
  const changes = seasonChanges(season);
  if (changes.length === 0) return paragraph(section, 'Corrections that changed a verdict: none.', { sizePt: 8.5 });
  const heading = 'Corrections that changed a verdict';
  if (room) return headedRows(section, heading, { columns: changeTable, rows: changes, sheet: 'Corrections' }, room);
  paragraph(section, heading, headingStyle);
  await table(section, changeTable, changes, compact);
}

export const changeTable: readonly TableColumn<VerdictChange>[] = [
  { heading: 'Lot', of: (change) => change.lot, face: 'boldCode' },
  { heading: 'When', of: (change) => minute(change.at), face: 'figures' },
  { heading: 'By', of: (change) => change.by },
  { heading: 'Corrected', of: (change) => change.record },
  { heading: 'Was → is', of: formatChanges, style: () => ({ face: 'bold' }) },
  { heading: 'Why', of: (change) => change.why ?? 'not recorded' },
  { heading: 'Verdict before', of: (change) => formatVerdict(change.before) },
  { heading: 'Verdict after', of: (change) => formatVerdict(change.after) },
];

interface Advisory {
  readonly lot: string;
  readonly finding: LotFinding;
}

/** Advisories: findings that don't hold the lot. */
async function drawAdvisories(section: Section, season: Season, room: Room): Promise<void> {
  const all = [...season.boils, ...season.lots].flatMap((lot) =>
    lot.findings.filter((finding) => !finding.stop).map((finding) => ({ lot: lot.lot, finding })),
  );
  if (all.length === 0) return;
  const byRule = new Map<string, Advisory[]>();
  for (const each of all) byRule.set(each.finding.rule, [...(byRule.get(each.finding.rule) ?? []), each]);
  const rows = [...byRule.values()];
  const heading = 'Advisories (they never hold a lot)';
  await headedRows(section, heading, { columns: advisoryTable, rows, sheet: 'Findings' }, room);
}

const advisoryTable: readonly TableColumn<readonly Advisory[]>[] = [
  { heading: 'Advisory', of: ([first]) => ruleTitle(first?.finding.rule ?? '') },
  { heading: 'Lots', of: (each) => each.map(({ lot }) => lot).join(', '), face: 'code' },
  { heading: 'Found in the first lot', of: ([first]) => first?.finding.found ?? '' },
  { heading: 'Limit', of: ([first]) => first?.finding.limit ?? '' },
];

async function drawLate(section: Section, season: Season, room: Room): Promise<void> {
  const late = seasonLate(season);
  if (late.length === 0) return paragraph(section, 'Entries written more than a day late: none.', { sizePt: 8.5 });
  const heading = 'Entries written more than a day late';
  await headedRows(section, heading, { columns: lateTable, rows: late, sheet: 'Late entries' }, room);
}

const headingStyle = { face: 'bold', sizePt: 11 } as const;
/** A line of the heading and the space below it. */
const headingPt = 19;

/** The line below a table that says how many rows it leaves out. */
const moreLinePt = 16;

interface Room {
  /** What is left free below the rows for what follows. */
  readonly keepPt: number;
  /** The last page that may be begun. */
  readonly lastPage: number;
}
interface Rows<Row> {
  readonly columns: readonly TableColumn<Row>[];
  readonly rows: readonly Row[];
  /** The sheet of the workbook that has them all. */
  readonly sheet: string;
}

/**
 * A heading with as many rows below it as the page has room for: only the deviations themselves may continue over several
 * pages. Where not one row fits, both go to the next page if another may be begun, for a heading alone names nothing.
 */
async function headedRows<Row>(
  section: Section,
  heading: string,
  { columns, rows, sheet }: Rows<Row>,
  { keepPt, lastPage }: Room,
): Promise<void> {
  const { paper } = section;
  const fitBelow = (takenPt: number): number => {
    const roomPt = paper.bottomPt - paper.yPt - keepPt - takenPt;
    const whole = rowsThatFit(paper, columns, rows, roomPt, compact).rows;
    // Only where rows are left out is there a line that says how many.
    return whole === rows.length ? whole : rowsThatFit(paper, columns, rows, roomPt - moreLinePt, compact).rows;
  };
  if (fitBelow(headingPt) === 0 && paper.pages < lastPage) startPage(paper);
  paragraph(section, heading, headingStyle);
  const fit = fitBelow(0);
  if (fit > 0) await table(section, columns, rows.slice(0, fit), compact);
  if (fit < rows.length)
    paragraph(section, `${fit > 0 ? 'and ' : ''}${rows.length - fit} more, in the sheet “${sheet}”.`, { sizePt: 8.5 });
}

type Late = ReturnType<typeof seasonLate>[number];
const lateTable: readonly TableColumn<Late>[] = [
  { heading: 'Lot', of: (late) => late.lot, face: 'boldCode' },
  { heading: 'Entry', of: (late) => late.field },
  { heading: 'Happened', of: (late) => minute(late.happenedAt), face: 'figures' },
  { heading: 'Written', of: (late) => minute(late.typedAt), face: 'figures' },
  { heading: 'Hours late', of: (late) => tenth(late.hoursLate), align: 'right' },
];
