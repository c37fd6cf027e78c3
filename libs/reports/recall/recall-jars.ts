import { closeSection, openSection, paragraph } from '#libs/pdf/flow.js';
import type { Paper } from '#libs/pdf/paper.js';
import { table, type TableColumn } from '#libs/pdf/table.js';
import { howText } from './how-sent.js';
import type { Recall, RecalledJars } from './recall.js';
import type { Dispatch } from '../season/flow.js';
import { day, many } from '#libs/format/format.js';

/** Jars that never left or were returned: retained samples, broken, destroyed, returned, and where they are. */
export async function drawAtHome(paper: Paper, recall: Recall): Promise<void> {
  const home = recall.dispatches.filter((one) => !['sale', 'gift', 'sample'].includes(one.kind));
  if (home.length === 0) return;
  const section = openSection(paper, 'Kept, destroyed and returned', { needsPt: 60 });
  await table(section, homeTable, home);
  closeSection(section);
}

const homeTable: readonly TableColumn<Dispatch>[] = [
  { heading: 'When', of: (one) => day(one.sentAt), face: 'figures' },
  { heading: 'What', of: (one) => atHome[one.kind] ?? one.kind, face: 'bold' },
  { heading: 'Lot', of: (one) => one.lot, face: 'boldCode' },
  { heading: 'Jars', of: (one) => String(one.jars), align: 'right' },
  { heading: 'Where', of: (one) => one.to },
];
const atHome: Readonly<Record<string, string>> = { retained: 'retained sample', returned: 'returned by' };

/** Every jar by its code, grouped by destination; used to search the shelf and to strike off returned jars. */
export async function drawJars(paper: Paper, recall: Recall): Promise<void> {
  if (!recall.jars || recall.jars.count === 0) return;
  const section = openSection(paper, 'Every jar', { needsPt: 80 });
  const groups = groupsOf(recall.jars, recall.dispatches, recall.plans);
  paragraph(
    section,
    recall.jars.listed.length === 0
      ? `${many(recall.jars.count, 'jar')}: too many for paper. The recall page has a CSV file of every jar.`
      : `${many(recall.jars.count, 'jar')}. Where a dispatch was recorded as a number of jars, it is not known which ones went: they are listed as “on hand, or sent without its code”.`,
    { widthPt: paper.widthPt },
  );
  if (groups.length > 0) await table(section, jarTable, groups);
  closeSection(section);
}

export interface JarGroup {
  readonly lot: string;
  readonly where: string;
  readonly codes: readonly string[];
}

const jarTable: readonly TableColumn<JarGroup>[] = [
  { heading: 'Lot', of: (one) => one.lot, face: 'boldCode' },
  { heading: 'Where', of: (one) => one.where },
  { heading: 'Jars', of: (one) => String(one.codes.length), align: 'right' },
  { heading: 'Codes', of: (one) => one.codes.join(' '), face: 'code' },
];

/** A row must fit a page, so it has at most this many codes. */
const maxInRow = 60;

/** The recalled jars in groups by where they are. */
export function groupsOf(
  { listed }: RecalledJars,
  dispatches: readonly Dispatch[],
  plans: readonly Dispatch[],
): JarGroup[] {
  const byId = new Map([...dispatches, ...plans].map((each) => [each.id, each]));
  const groups = new Map<string, { lot: string; where: string; codes: string[] }>();
  for (const { lot, code, dispatch, takenOff } of listed) {
    const where = takenOff ?? whereText(byId.get(dispatch ?? ''));
    const key = `${lot} ${where}`;
    const group = groups.get(key);
    if (group) group.codes.push(code);
    else groups.set(key, { lot, where, codes: [code] });
  }
  return [...groups.values()].flatMap(({ lot, where, codes }) => {
    const rows: JarGroup[] = [];
    for (let first = 0; first < codes.length; first += maxInRow)
      rows.push({ lot, where, codes: codes.slice(first, first + maxInRow) });
    return rows;
  });
}

const whereText = (last: Dispatch | undefined): string => {
  if (!last) return 'on hand, or sent without its code';
  if (last.planned) return `planned for ${last.to}`;
  return last.kind === 'returned' ? `returned by ${last.to}` : `${howText(last)}, ${last.to}`;
};
