import { keysSent } from '#libs/store/log/log.js';
import { namesTaken } from '#libs/store/queries/names-taken.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { Kind } from '../record/kind.js';
import type { CsvRow } from './csv-file.js';
import { keyOfRow, namesOf } from './row-names.js';

export interface RowLookup {
  /** Whether neither this row's key nor any name of its record is in the book or in a row written before it. */
  isNew(row: CsvRow): boolean;
  /** Call for each written row, with the id that its record was given. */
  wrote(row: CsvRow, id: string): void;
}

/** Looks up all rows of a file at once: most are new, and each would otherwise need its own query. */
export async function lookUpRows(reader: SugarhouseReader, kind: Kind, rows: readonly CsvRow[]): Promise<RowLookup> {
  const sent = await keysSent(
    reader,
    'import',
    rows.map((row) => keyOfRow(kind, row)),
  );
  const names = rows.flatMap((row) => namesOf(kind, row));
  const taken = await namesTaken(reader, kind.kind, named(names));
  const known = new Set([...taken].map(capitals));
  return {
    isNew: (row) => !sent.has(keyOfRow(kind, row)) && !namesOf(kind, row).some((name) => known.has(capitals(name))),
    wrote: (row, id) => {
      sent.add(keyOfRow(kind, row));
      for (const name of [...namesOf(kind, row), id]) known.add(capitals(name));
    },
  };
}

/** As typed and as codes are written; each once. */
export const named = (names: readonly string[]): string[] => [...new Set([...names, ...names.map(capitals)])];

const capitals = (name: string): string => name.toUpperCase();
