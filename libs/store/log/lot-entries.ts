import type { EntryType } from '#libs/records/entry.js';
import type { RecordKind } from '#libs/records/record-types.js';
import type { AcceptedFinding } from '#libs/syrup/rules/accept-findings.js';
import { findEntry } from './log.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** The latest of a lot's holds, actions, releases and recalls, of each requested type. */
export async function lastLotEntries(
  { sql, sugarhouse }: SugarhouseReader,
  lot: string,
  types: readonly EntryType[],
): Promise<{ seq: number; entryType: EntryType } | undefined> {
  const rows = await sql.rows<{
    seq: number;
    entryType: EntryType;
  }>`SELECT seq, entry_type AS "entryType" FROM lot_entry
    WHERE sugarhouse = ${sugarhouse} AND lot = ${lot} AND entry_type IN ('hold', 'act', 'release', 'recall') ORDER BY seq DESC`;
  return rows.find((row) => types.includes(row.entryType));
}

/** Whether a hold by hand is in force: made after the last release. */
export async function heldByHand(reader: SugarhouseReader, lot: string): Promise<boolean> {
  return (await lastLotEntries(reader, lot, ['hold', 'release']))?.entryType === 'hold';
}

/** Whether a record of a lot was corrected after an entry of the log. */
export async function isRecordCorrectedAfter(
  { sql, sugarhouse }: SugarhouseReader,
  lot: string,
  kind: RecordKind,
  seq: number,
): Promise<boolean> {
  const row = await sql.row<{ seq: number }>`SELECT seq FROM lot_entry
    WHERE sugarhouse = ${sugarhouse} AND lot = ${lot} AND entry_type = 'correct' AND kind = ${kind} AND seq > ${seq} LIMIT 1`;
  return row !== undefined;
}

/** Findings accepted by releases of a lot, in the order of the log: each with who released it, when and why. */
export async function acceptedFindings({ sql, sugarhouse }: SugarhouseReader, lot: string): Promise<AcceptedFinding[]> {
  const rows = await sql.rows<{ seq: number }>`SELECT seq FROM lot_entry
    WHERE sugarhouse = ${sugarhouse} AND lot = ${lot} AND entry_type = 'release' ORDER BY seq`;
  const accepted: AcceptedFinding[] = [];
  for (const { seq } of rows) {
    const entry = await findEntry(sql, seq);
    const findings = (entry?.said?.['accepted'] ?? []) as readonly Omit<AcceptedFinding, 'by' | 'at' | 'why'>[];
    for (const finding of findings)
      accepted.push({ ...finding, by: entry?.by ?? '', at: entry?.happenedAt ?? '', why: entry?.why ?? '' });
  }
  return accepted;
}
