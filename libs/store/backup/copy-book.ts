import type { Book } from '../book.js';
import { applyEntry } from '../projection/apply-entry.js';
import { readFrontier, walkLog } from '../log/log.js';
import type { Row, Sql, SqlValue } from '../connection/sql.js';
import { numberedEntry } from '../log/entry-json.js';

export const householdTables = [
  'household_person',
  'household_session',
  'household_key',
  'household_guest',
  'household_note',
  'household_jar_report',
  'household_answer',
];

export const attachmentTable = 'household_attachment';

/**
 * Copies a whole book into an empty one, on either engine: the log row by row, the index replayed from it, the
 * household tables unchanged. The root is the same on both. All of it, or nothing.
 */
export async function copyBook(from: Book, to: Book): Promise<{ entries: number } | { problem: 'not-empty' }> {
  return to.write(async ({ sql }) => {
    if ((await readFrontier(sql)).entries > 0) return { problem: 'not-empty' as const };
    return from.snapshot(async (source) => {
      for await (const row of walkLog(source)) {
        await sql.run`INSERT INTO entry (seq, sugarhouse, author, idempotency_key, sent, json, leaf)
          VALUES (${row.seq}, ${row.sugarhouse}, ${row.author}, ${row.idempotency_key}, ${row.sent}, ${row.json}, ${row.leaf})`;
        await applyEntry(sql, numberedEntry(row));
      }
      const head = await readFrontier(source);
      await sql.run`UPDATE record_head SET entries = ${head.entries}, frontier = ${JSON.stringify(head.frontier)} WHERE id = 1`;
      for (const table of householdTables) {
        await sql.statement(`DELETE FROM ${table}`);
        const rows = await source.statement<Row>(`SELECT * FROM ${table}`);
        const columns = Object.keys(rows[0] ?? {});
        await sql.insert(
          table,
          columns,
          rows.map((row): SqlValue[] => columns.map((column) => row[column] ?? null)),
        );
      }
      await copyAttachments(source, sql);
      // So that the first queries have statistics.
      if (sql.engine === 'postgres') await sql.statement('ANALYZE');
      return { entries: head.entries };
    });
  });
}

/** One at a time: a book's photos may not fit into memory. */
async function copyAttachments(from: Sql, to: Sql): Promise<void> {
  await to.statement(`DELETE FROM ${attachmentTable}`);
  const keys = await from.rows<{ sugarhouse: string; sha256: string }>`SELECT sugarhouse, sha256
    FROM household_attachment ORDER BY sugarhouse, sha256`;
  for (const { sugarhouse, sha256 } of keys) {
    const row = await from.row<{ bytes: number; content: string }>`SELECT bytes, content FROM household_attachment
      WHERE sugarhouse = ${sugarhouse} AND sha256 = ${sha256}`;
    if (row)
      await to.run`INSERT INTO household_attachment (sugarhouse, sha256, bytes, content)
        VALUES (${sugarhouse}, ${sha256}, ${row.bytes}, ${row.content})`;
  }
}
