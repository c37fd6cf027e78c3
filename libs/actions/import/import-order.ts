import type { CsvRow } from './csv-file.js';
import { splitList } from '../record/fields.js';
import type { Kind } from '../record/kind.js';
import { parseMoment } from '../record/times.js';

/** The lots that a row names as its source or subject, as typed. */
export function referencesOf(kind: Kind, row: CsvRow): string[] {
  const lists = ['gatherings', 'carriedFrom', 'fromLots'].flatMap((field) => splitList(row.cells[field] ?? ''));
  const single = kind.kind === 'pack' || kind.kind === 'boil' ? [] : [row.cells['lot'] ?? '', row.cells['boil'] ?? ''];
  return [...lists.map((part) => part.split(':')[0] ?? ''), ...single].map((name) => name.trim()).filter(Boolean);
}

/**
 * Rows in an order in which they can be written: by time, and each after the rows of the same file that it came from,
 * wherever those are in the file.
 */
export function inOrder(kind: Kind, rows: readonly CsvRow[], zone: string): CsvRow[] {
  // Computed once per row: doing it in each comparison took half the time of a long file.
  const instants = new Map(rows.map((row) => [row, instantOf(row, zone)]));
  const at = (row: CsvRow): number => instants.get(row) ?? 0;
  const byTime = [...rows].sort((a, b) => at(a) - at(b) || a.line - b.line);
  const named = new Map<string, CsvRow>();
  for (const row of byTime)
    for (const name of kind.idFields) {
      const text = row.cells[name]?.toUpperCase();
      if (text !== undefined && !named.has(text)) named.set(text, row);
    }
  const ordered = new Set<CsvRow>();
  const begun = new Set<CsvRow>();
  for (const first of byTime) {
    // Depth first, with an explicit stack: a file may chain a hundred thousand rows.
    const stack: CsvRow[] = [first];
    for (let row = stack.at(-1); row; row = stack.at(-1)) {
      const waits = begun.has(row)
        ? []
        : referencesOf(kind, row).flatMap((name) => named.get(name.toUpperCase()) ?? []);
      begun.add(row);
      const open = waits.filter((other) => other !== row && !begun.has(other));
      if (open.length > 0) stack.push(...open);
      else {
        ordered.add(row);
        stack.pop();
      }
    }
  }
  return [...ordered];
}

const timeFields = ['gatheredAt', 'receivedAt', 'beganAt', 'drawnAt', 'packedAt', 'sentAt', 'countedAt'];

function instantOf(row: CsvRow, zone: string): number {
  for (const field of timeFields) {
    const at = row.cells[field] === undefined ? undefined : parseMoment(row.cells[field], zone).value;
    if (at !== undefined) return Date.parse(at);
  }
  return 0;
}
