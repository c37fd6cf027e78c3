import { entryJson, numberedEntry } from './entry-json.js';
import type { Entry, Judged, NumberedEntry } from '#libs/records/entry.js';
import { applyEntry, applyJudged } from '../projection/apply-entry.js';
import { growFrontier, leafHash, rootOf } from './merkle.js';
import { rowsInList } from '../connection/in-list.js';
import { toNumber, type Sql } from '../connection/sql.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

export interface Head {
  readonly entries: number;
  /** Lower-case hex: the root of the Merkle tree over the entries. */
  readonly root: string;
}

/** Appends to the log. Created at the start of a write; call `close` before the commit. */
export interface LogAppender {
  /**
   * `judge`, where given, runs after the entry is applied to the index and before it is hashed: its verdicts become
   * part of the entry.
   */
  readonly append: (entry: Entry, judge?: (sql: Sql) => Promise<Judged[]>) => Promise<number>;
  /** Counts entries that a statement has just inserted at the end of the log, by their leaves. */
  readonly adopt: (leaves: readonly string[]) => void;
  close(): Promise<void>;
  /** The last entry that it appended, if any. */
  last(): Appended | undefined;
}

/** Identifies an appended entry. The hash covers the idempotency key too, so no other entry has it. */
export interface Appended {
  readonly seq: number;
  readonly leaf: string;
}

/**
 * Takes the book's one write lock before anything is read. The first statement writes, so neither engine can give this
 * transaction an older view of the book than the one it will append to.
 */
export async function takeLogAppender(sql: Sql): Promise<LogAppender> {
  await sql.run`UPDATE record_head SET entries = entries WHERE id = 1`;
  const head = await readFrontier(sql);
  let { entries, frontier } = head;
  let last: Appended | undefined;
  return {
    last: () => last,
    append: async (entry, judge) => {
      const seq = entries + 1;
      await applyEntry(sql, { ...entry, seq });
      const judged = (await judge?.(sql)) ?? [];
      for (const each of judged) await applyJudged(sql, { ...entry, seq }, each);
      const json = entryJson(judged.length > 0 ? { ...entry, judged: [...(entry.judged ?? []), ...judged] } : entry);
      const leaf = leafHash(json);
      frontier = growFrontier(frontier, entries, leaf);
      entries = seq;
      last = { seq, leaf };
      await sql.insert('entry', entryColumns, [
        [seq, entry.sugarhouse, entry.author, entry.key, entry.sent, json, leaf],
      ]);
      return seq;
    },
    adopt: (leaves) => {
      for (const leaf of leaves) {
        frontier = growFrontier(frontier, entries++, leaf);
        last = { seq: entries, leaf };
      }
    },
    close: async () => {
      if (entries > head.entries)
        await sql.run`UPDATE record_head SET entries = ${entries}, frontier = ${JSON.stringify(frontier)} WHERE id = 1`;
    },
  };
}

const entryColumns = ['seq', 'sugarhouse', 'author', 'idempotency_key', 'sent', 'json', 'leaf'];

/** Whether the log contains exactly this entry. */
export async function holds(sql: Sql, { seq, leaf }: Appended): Promise<boolean> {
  return (await sql.row`SELECT seq FROM entry WHERE seq = ${seq} AND leaf = ${leaf}`) !== undefined;
}

/** The number of entries in the log, and their Merkle root. */
export async function readHead(sql: Sql): Promise<Head> {
  const { entries, frontier } = await readFrontier(sql);
  return { entries, root: rootOf(frontier) };
}

/** The number of entries in the log, and the hashes from which the root is computed. */
export async function readFrontier(sql: Sql): Promise<{ entries: number; frontier: string[] }> {
  const head = await sql.row<{
    entries: number;
    frontier: string;
  }>`SELECT entries, frontier FROM record_head WHERE id = 1`;
  return { entries: toNumber(head?.entries), frontier: JSON.parse(head?.frontier ?? '[]') as string[] };
}

/** An entry by its number, from 1; undefined where there is none. */
export async function findEntry(sql: Sql, seq: number): Promise<NumberedEntry | undefined> {
  const row = await sql.row<{ json: string }>`SELECT json FROM entry WHERE seq = ${seq}`;
  return row && numberedEntry({ seq, json: row.json });
}

/** The entry that the same author sent before under the same key; undefined where there is none. */
export async function findSent(
  { sql, sugarhouse }: SugarhouseReader,
  author: string,
  key: string,
): Promise<NumberedEntry | undefined> {
  const row = await sql.row<{ seq: number; json: string }>`SELECT seq, json FROM entry
    WHERE sugarhouse = ${sugarhouse} AND author = ${author} AND idempotency_key = ${key}`;
  return row && numberedEntry(row);
}

/** Which of these keys the author has sent before. */
export async function keysSent(
  { sql, sugarhouse }: SugarhouseReader,
  author: string,
  keys: readonly string[],
): Promise<Set<string>> {
  const text = `SELECT idempotency_key FROM entry WHERE sugarhouse = ? AND author = ? AND idempotency_key IN (LIST)`;
  const rows = await rowsInList<{ idempotency_key: string }>(sql, text, [sugarhouse, author], keys);
  return new Set(rows.map((row) => row.idempotency_key));
}

/** The entries of a lot's history, oldest first. */
export async function historyOf({ sql, sugarhouse }: SugarhouseReader, lot: string): Promise<NumberedEntry[]> {
  const rows = await sql.rows<{ seq: number; json: string }>`SELECT entry.seq, entry.json FROM lot_entry
    JOIN entry ON entry.seq = lot_entry.seq
    WHERE lot_entry.sugarhouse = ${sugarhouse} AND lot_entry.lot = ${lot} ORDER BY lot_entry.seq`;
  return rows.map(numberedEntry);
}

/** The whole log after an entry, a thousand at a time: the two drivers have no streaming in common. */
export async function* walkLog(sql: Sql, after = 0): AsyncGenerator<LogRow> {
  for (let last = after; ;) {
    const some = await sql.rows<LogRow>`SELECT seq, sugarhouse, author,
      idempotency_key, sent, json, leaf FROM entry WHERE seq > ${last} ORDER BY seq LIMIT 1000`;
    yield* some;
    const end = some.at(-1);
    if (!end) return;
    last = end.seq;
  }
}
export interface LogRow {
  readonly seq: number;
  readonly json: string;
  readonly leaf: string;
  readonly sugarhouse: string;
  readonly author: string;
  readonly idempotency_key: string;
  readonly sent: string;
}
