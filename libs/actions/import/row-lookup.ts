import { keysSent } from '#libs/store/log/log.js';
import { namesTaken } from '#libs/store/queries/names-taken.js';
import { rowsByKey } from '#libs/store/connection/rows-by-key.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { Kind } from '../record/kind.js';
import { referencesOf } from './import-order.js';
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

/**
 * Reads at once what the next rows of a file will look up one by one: the lots that they name, and the records of those.
 * The write that this is done in knows them from then on.
 */
export async function readAhead(
  { sql, sugarhouse }: SugarhouseReader,
  kind: Kind,
  rows: readonly CsvRow[],
): Promise<void> {
  const sources = rows.flatMap((row) => referencesOf(kind, row));
  const own = named(rows.flatMap((row) => namesOf(kind, row)));
  await rowsByKey(sql, { table: 'lot', sugarhouse }, named([...sources, ...own]));
  await rowsByKey(sql, { table: 'record', sugarhouse, kind: kind.kind }, own);
  for (const about of ['gathering', 'receipt', 'boil', 'pack'])
    await rowsByKey(sql, { table: 'record', sugarhouse, kind: about }, named(sources));
}

/** As typed and as codes are written; each once. */
const named = (names: readonly string[]): string[] => [...new Set([...names, ...names.map(capitals)])];

const capitals = (name: string): string => name.toUpperCase();
