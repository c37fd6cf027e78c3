import { columnName } from '#libs/actions/record/fields.js';
import type { Kind } from '#libs/actions/record/kind.js';
import type { StoredRecord } from '#libs/store/queries/lots.js';
import { safeCsv } from '#libs/reports/season/csv.js';

/** Records in the import's format: a column per field, cells as they were typed, and the codes given by the book. */
export function exportCsv(kind: Kind, records: readonly StoredRecord[]): string {
  const idField = kind.idFields[0] ?? 'id';
  const columns = Object.keys(kind.fields).map((name) => ({
    heading: columnName(name),
    holds: 'text' as const,
    widthChars: 16,
    of: (record: StoredRecord): string => record.typed[name] ?? (name === idField ? record.id : ''),
  }));
  return safeCsv(columns, records);
}
