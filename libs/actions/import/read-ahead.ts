import { lotsNamed } from '#libs/store/connection/batch-queries.js';
import { rowsBy } from '#libs/store/connection/row-groups.js';
import { rowsByKey } from '#libs/store/connection/rows-by-key.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { RecordColumns } from '#libs/store/queries/lots.js';
import { readLotsAhead } from '../judging/read-lots-ahead.js';
import { nextIds } from '../record/find-existing-record.js';
import type { Kind } from '../record/kind.js';
import { likelyCodes } from '../record/lot-code.js';
import type { CsvRow } from './csv-file.js';
import { referencesOf } from './import-order.js';
import { named } from './row-lookup.js';
import { namesOf } from './row-names.js';

/**
 * Reads at once what the next rows of a file will look up one by one: the lots that they name, what these came from,
 * and what is recorded about all of them. The write that this is done in knows it from then on.
 */
export async function readAhead(reader: SugarhouseReader, kind: Kind, rows: readonly CsvRow[]): Promise<void> {
  const { sql, sugarhouse } = reader;
  if (!sql.grouped) return;
  const own = named(rows.flatMap((row) => namesOf(kind, row)));
  const sources = named(rows.flatMap((row) => referencesOf(kind, row)));
  const lots = await lotsNamed(reader, [...own, ...sources]);
  const names = new Set([...own, ...lots.keys()]);
  const others = sources.filter((name) => !lots.has(name));
  const boilNamed = new Map([...lots].flatMap(([code, lot]) => (lot.kind === 'boil' ? [[code, code]] : [])));
  for (const each of ['boil', 'pack']) {
    const by = { table: 'record', column: 'own_id', sugarhouse, kinds: [each] } as const;
    for (const { id, own_id: ownId } of await rowsBy<RecordColumns>(sql, by, others)) {
      names.add(id);
      if (each === 'boil' && ownId !== null) boilNamed.set(ownId, id);
    }
  }
  for (const row of rows.filter((each) => each.cells['lot'] === undefined)) {
    const boils = referencesOf(kind, row).flatMap(
      (name) => boilNamed.get(name) ?? boilNamed.get(name.toUpperCase()) ?? [],
    );
    for (const code of likelyCodes(kind.kind, row.cells['beganAt'] ?? row.cells['packedAt'], boils)) names.add(code);
  }
  await readLotsAhead(reader, [...names], {
    withJars: ['pack', 'dispatch', 'count'].includes(kind.kind),
    newKinds: ['boil', 'pack'].filter((each) => each === kind.kind),
  });
  await rowsByKey(sql, { table: 'record', sugarhouse, kind: kind.kind }, [
    ...own,
    ...(await nextIds(reader, kind, rows.length)),
  ]);
}
