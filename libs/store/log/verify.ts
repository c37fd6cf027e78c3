import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Book } from '../book.js';
import { canonicalJson } from './canonical.js';
import { openBesideBook } from '../connection/engine.js';
import { damageIn } from '../backup/damage.js';
import { isDamage } from '../connection/damage-error.js';
import { applyEntry } from '../projection/apply-entry.js';
import { columnNames, createIndex, indexTables, type IndexTable } from '../projection/index-tables.js';
import { type LogRow, readHead, walkLog } from './log.js';
import { type Frontier, growFrontier, leafHash, rootOf } from './merkle.js';
import { photoDifference } from '../household/attachments.js';
import { unexpectedObject } from '../backup/unexpected-objects.js';
import { type Row, sqlOver, type Sql, type SqlValue } from '../connection/sql.js';
import { numberedEntry, type StoredEntry } from './entry-json.js';

export interface Verified {
  readonly ok: boolean;
  readonly entries: number;
  readonly root: string;
  /** The first difference, in a sentence; absent where there is none. */
  readonly firstDifference?: string;
}

/** A root and count printed on a page. */
export interface Printed {
  readonly root: string;
  readonly entries: number;
}

/**
 * Recomputes the log's hashes from its entries, replays it into a scratch database and compares every row of every
 * table. With `against` it also checks whether the log still begins with the printed entries.
 */
export async function verifyBook(book: Book, against?: Printed): Promise<Verified> {
  try {
    return await verifyAll(book, against);
  } catch (fault) {
    if (!isDamage(fault)) throw fault;
    const head = await readHead(book.read).catch(() => ({ entries: 0, root: '' }));
    return { ok: false, ...head, firstDifference: `the file is damaged: ${(fault as Error).message}` };
  }
}

async function verifyAll(book: Book, against: Printed | undefined): Promise<Verified> {
  const folder = await mkdtemp(join(tmpdir(), 'boilbook-verify-'));
  const scratch = await openBesideBook(join(folder, 'scratch.sqlite')).initialize();
  try {
    // A scratch book is deleted afterwards, so it needs speed and no durability.
    await scratch.query('PRAGMA journal_mode = OFF');
    await scratch.query('PRAGMA synchronous = OFF');
    const index = sqlOver(scratch);
    for (const statement of createIndex('sqlite')) await index.statement(statement);
    return await book.snapshot(async (sql) => {
      const damage = await damageIn(sql, 'integrity_check');
      await index.statement('BEGIN');
      const log = await verifyLog(sql, index, against);
      await index.statement('COMMIT');
      const difference =
        (damage === undefined ? undefined : `the file is damaged: ${damage}`) ??
        (await unexpectedObject(sql)) ??
        log.difference ??
        (await compareTables(sql, index)) ??
        (await photoDifference(sql));
      const { entries, root } = log;
      return difference === undefined
        ? { ok: true, entries, root }
        : { ok: false, entries, root, firstDifference: difference };
    });
  } finally {
    await scratch.destroy();
    await rm(folder, { recursive: true, force: true });
  }
}

/** Checks each entry against its own columns and hash and applies it; the head last. */
async function verifyLog(sql: Sql, index: Sql, against: Printed | undefined) {
  let frontier: Frontier = [];
  let entries = 0;
  let difference: string | undefined;
  let atPrinted = against?.entries === 0 ? rootOf([]) : undefined;
  for await (const row of walkLog(sql)) {
    difference ??= entryDifference(row, entries + 1);
    frontier = growFrontier(frontier, entries, leafHash(row.json));
    entries += 1;
    if (against?.entries === entries) atPrinted = rootOf(frontier);
    difference ??= await replayDifference(row, index);
  }
  const root = rootOf(frontier);
  const before = await sql.row<{ seq: number }>`SELECT seq FROM entry WHERE seq < 1 ORDER BY seq LIMIT 1`;
  if (before) difference ??= `entry ${before.seq}: it was inserted before entry 1, where the log begins`;
  difference ??= await headDifference(sql, entries, root);
  if (against && atPrinted === undefined)
    difference ??= `printed page: it has ${against.entries} entries, the log only ${entries}`;
  else if (against && atPrinted !== against.root.toLowerCase())
    difference ??= `printed page: the root of the first ${against.entries} entries is ${atPrinted}, not ${against.root}`;
  return { entries, root, difference };
}

/** An entry may have a valid hash and still be invalid, when it was written bypassing the program. */
async function replayDifference(row: LogRow, index: Sql): Promise<string | undefined> {
  try {
    await applyEntry(index, numberedEntry(row));
    return undefined;
  } catch (fault) {
    return `entry ${row.seq}: the tables can’t be recomputed from it (${(fault as Error).message})`;
  }
}

async function headDifference(sql: Sql, entries: number, root: string): Promise<string | undefined> {
  let head: { entries: number; root: string };
  try {
    head = await readHead(sql);
  } catch {
    return 'record_head: its frontier is not a list of hashes';
  }
  if (head.entries !== entries) return `record_head: it counts ${head.entries} entries, the log has ${entries}`;
  if (head.root !== root) return `record_head: its root is ${head.root}, the log gives ${root}`;
  return undefined;
}

function entryDifference(row: LogRow, place: number): string | undefined {
  if (row.seq !== place) return `entry ${place}: it is missing (the next one is ${row.seq})`;
  if (leafHash(row.json) !== row.leaf) return `entry ${row.seq}: its text does not match its hash: it was changed`;
  let entry: Partial<StoredEntry> | null;
  try {
    entry = JSON.parse(row.json) as Partial<StoredEntry> | null;
  } catch {
    return `entry ${row.seq}: it is not JSON`;
  }
  if (entry === null || typeof entry !== 'object') return `entry ${row.seq}: it is not an entry`;
  if (canonicalJson(entry) !== row.json) return `entry ${row.seq}: its text is not canonical JSON`;
  const columns = { sugarhouse: entry.sugarhouse, author: entry.author, idempotency_key: entry.key, sent: entry.sent };
  const wrong = Object.entries(columns).find(([column, value]) => row[column as keyof LogRow] !== value);
  return (
    wrong &&
    `entry ${row.seq}: column ${wrong[0]} is ${String(row[wrong[0] as keyof LogRow])}, in the entry it is ${String(wrong[1])}`
  );
}

async function compareTables(saved: Sql, rebuilt: Sql): Promise<string | undefined> {
  for (const table of indexTables) {
    const right = rows(rebuilt, table);
    for await (const row of rows(saved, table)) {
      const expected = (await right.next()).value as Row | undefined;
      const difference = rowDifference(table, row, expected);
      if (difference !== undefined) return difference;
    }
    const left = (await right.next()).value as Row | undefined;
    if (left) return `table ${table.name}: the row ${keyOf(table, left)} is missing`;
  }
  return undefined;
}

function rowDifference(table: IndexTable, row: Row, expected: Row | undefined): string | undefined {
  if (!expected) return `table ${table.name}: the row ${keyOf(table, row)} does not come from the log`;
  const key = keyOf(table, row);
  const wanted = keyOf(table, expected);
  const order = keyOrder(table, row, expected);
  if (order !== 0)
    return order < 0
      ? `table ${table.name}: the row ${key} does not come from the log`
      : `table ${table.name}: the row ${wanted} is missing`;
  for (const column of Object.keys(table.columns))
    if (row[column] !== expected[column])
      return `table ${table.name}, row ${key}: ${column} is ${String(row[column])}, the log gives ${String(expected[column])}`;
  return undefined;
}

/** Compares keys as both engines order them: numbers by value, text by its bytes. Returns below, at or above zero. */
function keyOrder(table: IndexTable, row: Row, other: Row): number {
  for (const column of table.key) {
    const [a, b] = [row[column], other[column]];
    const order = typeof a === 'number' && typeof b === 'number' ? a - b : Buffer.compare(bytesOf(a), bytesOf(b));
    if (order !== 0) return order;
  }
  return 0;
}
const bytesOf = (value: SqlValue | undefined): Buffer => Buffer.from(String(value));

const keyOf = (table: IndexTable, row: Row): string => table.key.map((column) => String(row[column])).join(' ');

/** A table in the order of its key, a thousand rows at a time, on either engine. */
async function* rows(sql: Sql, table: IndexTable): AsyncGenerator<Row> {
  const placeholder = (n: number): string => (sql.engine === 'postgres' ? `$${n}` : '?');
  const key = table.key.join(', ');
  let last: SqlValue[] | undefined;
  for (;;) {
    const after: string = last ? `WHERE (${key}) > (${last.map((_, n) => placeholder(n + 1)).join(', ')})` : '';
    const some: Row[] = await sql.statement<Row>(
      `SELECT ${columnNames(table).join(', ')} FROM ${table.name} ${after} ORDER BY ${key} LIMIT 1000`,
      last ?? [],
    );
    yield* some;
    const end = some.at(-1);
    if (!end) return;
    last = table.key.map((column) => end[column] ?? null);
  }
}
