import type { NumberedEntry, VoidedRecord } from '#libs/records/entry.js';
import { lotOfDisposal, movedByAction } from '../queries/trace.js';
import type { Sql } from '../connection/sql.js';

/**
 * Removes a voided record from every table that lists, sums and diagrams read. The log keeps it and the entry that
 * voided it; `voided` keeps its id, so that no later record can use it.
 */
export async function applyVoid(sql: Sql, { sugarhouse: house, seq }: NumberedEntry, of: VoidedRecord): Promise<void> {
  await sql.run`DELETE FROM record WHERE sugarhouse = ${house} AND kind = ${of.kind} AND id = ${of.id}`;
  await sql.run`INSERT INTO voided (sugarhouse, kind, id, seq) VALUES (${house}, ${of.kind}, ${of.id}, ${seq})`;
  switch (of.kind) {
    case 'dispatch':
      await sql.run`DELETE FROM movement WHERE sugarhouse = ${house} AND id = ${of.id}`;
      return sql.run`DELETE FROM movement_jar WHERE sugarhouse = ${house} AND movement = ${of.id}`;
    case 'action':
      return sql.run`DELETE FROM movement WHERE sugarhouse = ${house} AND id = ${movedByAction(of.id)}`;
    case 'count':
      return sql.run`DELETE FROM shelf_count WHERE sugarhouse = ${house} AND id = ${of.id}`;
    case 'spent':
      return sql.run`DELETE FROM flow WHERE sugarhouse = ${house} AND into_lot = ${lotOfDisposal(of.id)}`;
    case 'gathering':
    case 'receipt':
    case 'boil':
    case 'pack':
      await sql.run`DELETE FROM flow WHERE sugarhouse = ${house} AND into_lot = ${of.id}`;
      await sql.run`DELETE FROM jar WHERE sugarhouse = ${house} AND pack = ${of.id}`;
      return sql.run`DELETE FROM lot WHERE sugarhouse = ${house} AND code = ${of.id}`;
    default:
      return;
  }
}
