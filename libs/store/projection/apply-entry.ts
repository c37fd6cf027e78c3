import { occurredAt } from '#libs/records/occurred-at.js';
import { canonicalJson } from '../log/canonical.js';
import type { Portion } from '#libs/records/portion.js';
import type { AllocatedJars, Judged, NumberedEntry, PhotoTaken, RecordRow } from '#libs/records/entry.js';
import { applyAction, applyCount, applyMovement } from './apply-movement.js';
import { applyVoid } from './apply-void.js';
import { settleOpenShares } from './open-shares.js';
import { stopPlans } from './stop-plans.js';
import { jarCodesOf } from '../log/jar-seeds.js';
import { addRows } from '../connection/row-groups.js';
import { changeRow, putRow, rowByKey } from '../connection/rows-by-key.js';
import type { RowOf } from './index-tables.js';
import type { Sql, SqlValue } from '../connection/sql.js';
import type { RecordColumns } from '../queries/lots.js';
import { utcOf } from '../connection/instants.js';
import { lotOfDisposal } from '../queries/trace.js';

/**
 * Applies one entry to the index. It only copies and rearranges the entry's content, without rules, formulas or a
 * clock, so that an old log always gives the same tables.
 */
export async function applyEntry(sql: Sql, entry: NumberedEntry): Promise<void> {
  if (entry.record) await applyRecord(sql, entry, entry.record);
  if (entry.voids) await applyVoid(sql, entry, entry.voids);
  if (entry.photo) await applyPhoto(sql, entry, entry.photo);
  if (entry.jars) await foldJars(sql, entry.sugarhouse, entry.jars);
  for (const judged of entry.judged ?? []) await applyJudged(sql, entry, judged);
  for (const lot of new Set(entry.about)) {
    await sql.insert(
      'lot_entry',
      ['sugarhouse', 'lot', 'seq', 'entry_type', 'kind'],
      [[entry.sugarhouse, lot, entry.seq, entry.entryType, entry.record?.kind ?? '']],
    );
    // A lot's own record has already written it.
    if (!isOwnRecord(entry.record, lot))
      await changeRow(sql, { table: 'lot', sugarhouse: entry.sugarhouse }, lot, { last_seq: entry.seq });
  }
}

const isOwnRecord = (row: RecordRow | undefined, lot: string): boolean =>
  row?.id === lot && ['gathering', 'receipt', 'boil', 'pack'].includes(row.kind);

async function applyRecord(sql: Sql, entry: NumberedEntry, asWritten: RecordRow): Promise<void> {
  const first = await firstWriting(sql, entry, asWritten);
  const row = first ? withFirstWriting(asWritten, first) : asWritten;
  const at = occurredAt(row) ?? entry.happenedAt;
  await putRow(sql, 'record', recordColumns(entry, row, at, first), ['written_by', 'written_at', 'first_seq']);
  switch (row.kind) {
    case 'gathering':
    case 'receipt': {
      return applyLot(sql, entry, row, at, { millilitres: row.body.volume.millilitres });
    }
    case 'boil': {
      const body = row.body;
      await applyLot(sql, entry, row, at, { millilitres: body.syrupVolume?.millilitres ?? null });
      return applyFlows(sql, entry, row.id, at, { sap: body.gatherings, carried: body.carriedFrom });
    }
    case 'pack': {
      const body = row.body;
      const jarMillilitres = body.container.volume.millilitres;
      await applyLot(sql, entry, row, at, {
        millilitres: body.jars === undefined ? null : body.jars * jarMillilitres,
        jars: body.jars ?? null,
        jarMillilitres,
        container: body.container.typed,
        sealsChecked: body.sealsFailed !== undefined,
      });
      return applyFlows(sql, entry, row.id, at, { syrup: body.fromLots });
    }
    case 'dispatch':
      return applyMovement(sql, entry, row.id, row.body);
    case 'count':
      return applyCount(sql, entry, row.id, row.body);
    case 'action':
      return applyAction(sql, entry, row.id, row.body);
    case 'spent': {
      const body = row.body;
      return applyFlows(sql, entry, lotOfDisposal(row.id), at, {
        [body.how === 'shrink' ? 'shrunk' : 'spent']: [body],
      });
    }
    default:
      return;
  }
}

function recordColumns(
  entry: NumberedEntry,
  row: RecordRow,
  at: string,
  first: FirstWriting | undefined,
): RowOf<'record'> {
  const writtenBy = first?.by ?? entry.by;
  return {
    sugarhouse: entry.sugarhouse,
    kind: row.kind,
    id: row.id,
    own_id: row.ownId ?? null,
    lot: row.lot ?? null,
    year: Number(at.slice(0, 4)),
    at_text: at,
    at_utc: utcOf(at),
    by: byOf(row) ?? writtenBy,
    written_by: writtenBy,
    written_at: first?.at ?? assumedTime(row) ?? entry.typedAt,
    typed: canonicalJson(row.typed),
    body: canonicalJson(row.body),
    first_seq: entry.seq,
    last_seq: entry.seq,
  };
}

async function applyPhoto(
  sql: Sql,
  { sugarhouse, seq, by, happenedAt }: NumberedEntry,
  photo: PhotoTaken,
): Promise<void> {
  await sql.run`INSERT INTO photo (sugarhouse, seq, kind, id, sha256, width, height, caption, "by", at_text)
    VALUES (${sugarhouse}, ${seq}, ${photo.kind}, ${photo.id}, ${photo.sha256}, ${photo.width}, ${photo.height},
      ${photo.caption}, ${by}, ${happenedAt})`;
}

interface FirstWriting {
  readonly by: string;
  readonly at: string;
}

/** Who wrote the record's first entry and when; undefined where this entry is the first. */
async function firstWriting(sql: Sql, entry: NumberedEntry, row: RecordRow): Promise<FirstWriting | undefined> {
  if (entry.corrects === undefined) return undefined;
  const start = { table: 'record', sugarhouse: entry.sugarhouse, kind: row.kind } as const;
  const saved = await rowByKey<RecordColumns>(sql, start, row.id);
  return saved && { by: saved.written_by, at: saved.written_at };
}

const isStated = (row: RecordRow, name: 'by' | 'at'): boolean => (row.typed[name] ?? '') !== '';

/**
 * Where neither who nor when was typed, both are those of the record's first entry. Older versions gave a corrected
 * record the corrector and the time of the correction; the log keeps that, and the index uses the first entry.
 */
function withFirstWriting(row: RecordRow, first: FirstWriting): RecordRow {
  const body = row.body as Readonly<Record<string, unknown>>;
  const unsaid = (['by', 'at'] as const).filter((name) => typeof body[name] === 'string' && !isStated(row, name));
  const firstBody = { ...body, ...Object.fromEntries(unsaid.map((name) => [name, first[name]])) };
  return { ...row, body: firstBody } as RecordRow;
}

function assumedTime(row: RecordRow): string | undefined {
  const { at } = row.body as { readonly at?: unknown };
  return typeof at === 'string' && !isStated(row, 'at') ? at : undefined;
}

function byOf(row: RecordRow): string | undefined {
  const { by } = row.body as { readonly by?: unknown };
  return typeof by === 'string' && by !== '' ? by : undefined;
}

interface LotFigures {
  readonly millilitres: number | null;
  readonly jars?: number | null;
  readonly jarMillilitres?: number;
  readonly container?: string;
  readonly sealsChecked?: boolean;
}

async function applyLot(
  sql: Sql,
  entry: NumberedEntry,
  row: RecordRow,
  at: string,
  figures: LotFigures,
): Promise<void> {
  const columns: RowOf<'lot'> = {
    sugarhouse: entry.sugarhouse,
    code: row.id,
    kind: row.kind,
    year: Number(at.slice(0, 4)),
    at_text: at,
    at_utc: utcOf(at),
    state: 'open',
    held_since: null,
    verdict: null,
    rules: '',
    seal_check_asked: 0,
    millilitres: figures.millilitres,
    jars: figures.jars ?? null,
    jar_millilitres: figures.jarMillilitres ?? null,
    container: figures.container ?? null,
    seals_checked: figures.sealsChecked ? 1 : 0,
    last_seq: entry.seq,
  };
  await putRow(sql, 'lot', columns, ['kind', 'state', 'held_since', 'verdict', 'rules', 'seal_check_asked']);
  if (entry.corrects !== undefined && figures.millilitres !== null && row.kind !== 'pack')
    await settleOpenShares(sql, entry, row.id, figures.millilitres);
}

async function applyFlows(
  sql: Sql,
  entry: NumberedEntry,
  into: string,
  at: string,
  byKind: Readonly<Record<string, readonly Portion[]>>,
): Promise<void> {
  if (entry.corrects !== undefined)
    await sql.run`DELETE FROM flow WHERE sugarhouse = ${entry.sugarhouse} AND into_lot = ${into}`;
  const atUtc = utcOf(at);
  const rows = Object.entries(byKind).flatMap(([kind, portions]) =>
    portions.map((each) => ({
      sugarhouse: entry.sugarhouse,
      into_lot: into,
      from_lot: each.lot,
      kind,
      millilitres: each.millilitres,
      typed: each.typed,
      at_utc: atUtc,
    })),
  );
  await addRows(sql, 'flow', rows);
}

const mostCollected = 1000;

async function foldJars(sql: Sql, house: string, allocated: AllocatedJars): Promise<void> {
  const codes = jarCodesOf(allocated);
  // A write collects the jars of several packs.
  if (sql.engine === 'sqlite' && !(sql.grouped && codes.length <= mostCollected))
    // As one value: a statement with a mark for each jar would be prepared anew for every number of jars.
    return sql.run`INSERT INTO jar (sugarhouse, code, pack, n)
      SELECT ${house}, value, ${allocated.pack}, ${allocated.from} + key FROM json_each(${JSON.stringify(codes)})`;
  const lines = codes.map((code, at): SqlValue[] => [house, code, allocated.pack, allocated.from + at]);
  await sql.insert('jar', ['sugarhouse', 'code', 'pack', 'n'], lines);
}

/** Applies an entry's verdict on a lot: stops plans, then sets its state and verdict. */
export async function applyJudged(sql: Sql, entry: NumberedEntry, judged: Judged): Promise<void> {
  await stopPlans(sql, entry, judged);
  await applyVerdict(sql, entry.sugarhouse, judged);
}

async function applyVerdict(sql: Sql, house: string, judged: Judged): Promise<void> {
  const verdict = judged.verdict && {
    verdict: canonicalJson(judged.verdict),
    rules: judged.verdict.rules ?? '',
    seal_check_asked: judged.verdict.findings.some(({ rule }) => rule === 'seals-not-checked') ? 1 : 0,
  };
  await changeRow(sql, { table: 'lot', sugarhouse: house }, judged.lot, {
    state: judged.state,
    held_since: judged.heldSince ?? null,
    ...verdict,
  });
}
