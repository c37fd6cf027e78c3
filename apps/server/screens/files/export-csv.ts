import { columnOf } from '#libs/actions/record/fields.js';
import type { Kind } from '#libs/actions/record/kind.js';
import type { StoredRecord } from '#libs/store/queries/lots.js';
import { safeCsv } from '#libs/reports/season/csv.js';

/** Records as the import reads them: a column a field, cells as they were typed, codes given by the book beside them. */
export function exportCsv(kind: Kind, records: readonly StoredRecord[]): string {
  const named = kind.named[0] ?? 'id';
  const columns = Object.keys(kind.fields).map((name) => ({
    heading: columnOf(name),
    holds: 'text' as const,
    widthChars: 16,
    of: (record: StoredRecord): string => record.typed[name] ?? (name === named ? record.id : ''),
  }));
  return safeCsv(columns, records);
}
