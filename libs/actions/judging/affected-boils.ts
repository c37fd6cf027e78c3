import type { LineBody } from '#libs/records/kinds/boil-line.js';
import type { BoilBody } from '#libs/records/kinds/boil.js';
import { textIn, type SupportingRecordBody } from '#libs/records/kinds/supporting-record.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { rowsBy } from '#libs/store/connection/row-groups.js';
import { findLot, type RecordColumns, recordsOf } from '#libs/store/queries/lots.js';
import { lotsDownstream, ofKind } from '#libs/store/queries/trace.js';
import { panResidue, loadPanWashings } from '../facts/pan-residue.js';
import type { RecordBeingWritten } from './record-being-written.js';

/**
 * The field that links a cleaning or test to a later one: the thing cleaned, the water source, the piece of equipment.
 */
const linkFields = { cleaning: 'what', 'water-test': 'source', 'lead-test': 'equipment' } as const;

/**
 * The boils, with their packs, whose verdict a cleaning or test may change: those from it to the next one of the same
 * thing. For a correction also those it affected before.
 */
export async function boilsAffectedByEquipment(written: RecordBeingWritten): Promise<string[]> {
  const { kind, sql, sugarhouse, prepared, before } = written;
  const kindName = kind.kind as keyof typeof linkFields;
  const field = linkFields[kindName];
  const bodies = bodiesOf<SupportingRecordBody>(written);
  const name = (body: SupportingRecordBody): string => textIn(body, field).trim().toLowerCase();
  const others = (await recordsOf({ sql, sugarhouse }, kindName)).filter(
    ({ id }) => id !== prepared.id && id !== before?.id,
  );
  const ends = bodies.map(
    (body) => others.find((each) => each.atUtc > utcOf(body.at) && name(each.body) === name(body))?.atUtc ?? endOfTime,
  );
  return boilsBetween(written, earliest(bodies.map(({ at }) => utcOf(at))), latest(ends));
}

/** The boils of the year of a piece of equipment, or of its lead test, and of later years; their packs don't change. */
export async function boilsAffectedByLeadRisk(written: RecordBeingWritten): Promise<string[]> {
  const { kind, sql, sugarhouse } = written;
  const bodies = bodiesOf<SupportingRecordBody>(written);
  if (kind.kind === 'lead-test' && bodies.every((body) => textIn(body, 'equipment').trim() === '')) return [];
  const fromYear = earliest(bodies.map(({ at }) => utcOf(at))).slice(0, 4);
  const boils = await rowsBy<RecordColumns>(sql, { table: 'record', column: 'kind', sugarhouse }, ['boil']);
  return boils
    .filter(({ at_utc: at }) => at.slice(0, 4) >= fromYear)
    .sort(newestFirst)
    .map(({ id }) => id);
}

/**
 * The boils after one that leaves in the pans an allergen or a defoamer without an answer, or left one before a
 * correction, until the pans were washed.
 */
export async function boilsAffectedByPans(written: RecordBeingWritten): Promise<string[]> {
  const bodies = bodiesOf<BoilBody>(written);
  const left = bodies.map((body) => panResidue(written.prepared.id, body, []));
  if (left.every(({ allergensInPans, unansweredInPans }) => allergensInPans.length + unansweredInPans.length === 0))
    return [];
  const carried = left.map((each, n) => `${bodies[n]?.beganAt} ${JSON.stringify(each)}`);
  if (bodies.length > 1 && new Set(carried).size === 1) return [];
  const panWashings = await loadPanWashings(written);
  const began = bodies.map(({ beganAt }) => utcOf(beganAt));
  return boilsBetween(written, earliest(began), panWashings.find((each) => each >= latest(began)) ?? endOfTime);
}

/** For a defoamer that the log of a boil names: the boil's packs, and the boils after it in the same pans. */
export async function boilsAffectedByLogLine(written: RecordBeingWritten): Promise<string[]> {
  const lines = bodiesOf<LineBody>(written);
  const boil = written.prepared.lot === undefined ? undefined : await findLot(written, written.prepared.lot);
  if (!boil || lines.every(({ what }) => what !== 'defoamer')) return [];
  const panWashings = await loadPanWashings(written);
  return boilsBetween(written, boil.atUtc, panWashings.find((each) => each >= boil.atUtc) ?? endOfTime);
}

const endOfTime = '9999';
const earliest = (instants: readonly string[]): string => [...instants].sort()[0] ?? '';
const latest = (instants: readonly string[]): string => [...instants].sort().at(-1) ?? '';

const bodiesOf = <Body>({ prepared, before }: RecordBeingWritten): Body[] => [
  prepared.body as Body,
  ...(before ? [before.body as Body] : []),
];

/** Boils that began at or after the first instant and before the second, each with its packs. */
async function boilsBetween(
  { sql, sugarhouse }: RecordBeingWritten,
  fromUtc: string,
  beforeUtc: string,
): Promise<string[]> {
  const codes = new Set<string>();
  const boils = await rowsBy<RecordColumns>(sql, { table: 'record', column: 'kind', sugarhouse }, ['boil']);
  const between = boils.filter(({ at_utc: at }) => at >= fromUtc && at < beforeUtc);
  for (const { id } of between.sort(newestFirst)) {
    codes.add(id);
    for (const pack of ofKind(await lotsDownstream({ sql, sugarhouse }, id), 'pack')) codes.add(pack.code);
  }
  return [...codes];
}

/** Bytewise, as both engines compare. */
const newestFirst = (a: RecordColumns, b: RecordColumns): number =>
  compareBytewise(b.at_utc, a.at_utc) || compareBytewise(b.id, a.id);
const compareBytewise = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
