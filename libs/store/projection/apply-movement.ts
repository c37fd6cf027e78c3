import type { CountBody } from '#libs/records/kinds/count.js';
import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import type { DispatchBody } from '#libs/records/kinds/dispatch.js';
import type { NumberedEntry } from '#libs/records/entry.js';
import { utcOf } from '../connection/instants.js';
import { addRows } from '../connection/row-groups.js';
import type { Sql } from '../connection/sql.js';
import { movedByAction } from '../queries/trace.js';
import { indexTables, type RowOf } from './index-tables.js';

/**
 * Applies a dispatch. A stopped plan stays stopped until its time is corrected to when the jars left, or they are
 * recorded as already left.
 */
export async function applyMovement(sql: Sql, entry: NumberedEntry, id: string, body: DispatchBody): Promise<void> {
  const house = entry.sugarhouse;
  const row: RowOf<'movement'> = {
    sugarhouse: house,
    id,
    lot: body.lot,
    kind: body.kind,
    jars: body.jars,
    by_codes: body.codes.length > 0 ? 1 : 0,
    sent_at: body.sentAt,
    sent_utc: utcOf(body.sentAt),
    sent_to: body.to,
    contact: body.contact,
    already_left: body.alreadyLeft === 'yes' ? 1 : 0,
    laboratory: body.laboratory === 'yes' ? 1 : 0,
    from_returned: body.fromReturned ?? 0,
    back_on_shelf: backOnShelf(body),
    looked_utc: body.lookedAt === undefined ? null : utcOf(body.lookedAt),
    stopped: 0,
  };
  if (isNew(sql, entry)) await addRows(sql, 'movement', [row]);
  else
    await writeOver(sql, 'movement', row, {
      stopped: `CASE WHEN movement.stopped = 1 AND movement.sent_utc = excluded.sent_utc AND excluded.already_left = 0
        THEN 1 ELSE 0 END`,
    });
  if (entry.corrects !== undefined)
    await sql.run`DELETE FROM movement_jar WHERE sugarhouse = ${house} AND movement = ${id}`;
  const lines = body.codes.map((code) => [house, code, id]);
  await sql.insert('movement_jar', ['sugarhouse', 'jar', 'movement'], lines);
}

/** Returned jars go back on sale when they are recorded as sealed and as stored cold or warm. */
const backOnShelf = ({ kind, sealed, keptHow }: DispatchBody): number =>
  kind === 'returned' && (keptHow === 'cold' || keptHow === 'warm') ? (sealed ?? 0) : 0;

/** Applies a count of a shelf. */
export async function applyCount(sql: Sql, entry: NumberedEntry, id: string, body: CountBody): Promise<void> {
  const row: RowOf<'shelf_count'> = {
    sugarhouse: entry.sugarhouse,
    id,
    lot: body.lot,
    jars: body.jars,
    counted_at: body.countedAt,
    counted_utc: utcOf(body.countedAt),
  };
  await (isNew(sql, entry) ? addRows(sql, 'shelf_count', [row]) : writeOver(sql, 'shelf_count', row));
}

/**
 * Jars that a corrective action destroyed or poured back leave the shelf. They are no dispatch: only the balance reads
 * such a movement, and the colon in its id keeps it apart from dispatches, whose ids contain none.
 */
export async function applyAction(sql: Sql, entry: NumberedEntry, action: string, body: ActionBody): Promise<void> {
  const house = entry.sugarhouse;
  const id = movedByAction(action);
  await sql.run`DELETE FROM movement WHERE sugarhouse = ${house} AND id = ${id}`;
  const kind = body.way === 'destroyed' || body.way === 'poured-back' ? body.way : undefined;
  if (!kind || !body.jars || body.jars.count === 0 || (body.cause ?? '').trim() === '') return;
  const row: RowOf<'movement'> = {
    sugarhouse: house,
    id,
    lot: body.lot,
    kind,
    jars: body.jars.count,
    by_codes: 0,
    sent_at: body.at,
    sent_utc: utcOf(body.at),
    sent_to: '',
    contact: '',
    already_left: 0,
    laboratory: 0,
    from_returned: 0,
    back_on_shelf: 0,
    looked_utc: null,
    stopped: 0,
  };
  await addRows(sql, 'movement', [row]);
}

/** Whether no row has the entry's id: a write has looked it up; an old log that is replayed may repeat one. */
const isNew = (sql: Sql, entry: NumberedEntry): boolean => sql.grouped !== undefined && entry.corrects === undefined;

/** Writes a row over the one of the same id, with these expressions for columns that depend on it. */
async function writeOver<Table extends 'movement' | 'shelf_count'>(
  sql: Sql,
  table: Table,
  row: RowOf<Table>,
  expressions: Readonly<Record<string, string>> = {},
): Promise<void> {
  const columns = Object.keys(indexTables.find(({ name }) => name === table)?.columns ?? {});
  const values = row as Readonly<Record<string, string | number | null>>;
  const changes = columns
    .filter((column) => !['sugarhouse', 'id'].includes(column))
    .map((column) => `${column} = ${expressions[column] ?? `excluded.${column}`}`);
  await sql.insert(
    table,
    columns,
    [columns.map((column) => values[column] ?? null)],
    `ON CONFLICT (sugarhouse, id) DO UPDATE SET ${changes.join(', ')}`,
  );
}
