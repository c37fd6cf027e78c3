import { canonicalJson, hashOf } from '#libs/store/log/canonical.js';
import type { Kind } from '../record/kind.js';
import type { CsvRow } from './csv-file.js';

/** The names that identify a row's record, as typed. */
export const namesOf = (kind: Kind, row: CsvRow): string[] =>
  kind.idFields.flatMap((name) => (row.cells[name] === undefined ? [] : [row.cells[name].trim()]));

/** The hash of the row's kind and cells, whoever imports it. */
export function keyOfRow(kind: Kind, row: CsvRow): string {
  const known = keys.get(row);
  if (known !== undefined) return known;
  const key = `row:${hashOf(canonicalJson({ kind: kind.kind, cells: row.cells }))}`;
  keys.set(row, key);
  return key;
}
const keys = new WeakMap<CsvRow, string>();
