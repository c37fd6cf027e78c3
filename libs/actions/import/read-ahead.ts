import { lotsNamed } from '#libs/store/connection/batch-queries.js';
import { rowsBy } from '#libs/store/connection/row-groups.js';
import { rowsByKey } from '#libs/store/connection/rows-by-key.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { RecordColumns } from '#libs/store/queries/lots.js';
import { judgedKinds } from '../lots/records-for-judging.js';
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
    const boils = referencesOf(kind, row).flatMap((name) => boilNamed.get(name) ?? []);
    for (const code of likelyCodes(kind.kind, row.cells['beganAt'] ?? row.cells['packedAt'], boils)) names.add(code);
  }
  const reached = await sql.grouped.walk({ sugarhouse, from: 'into_lot' }, [...names]);
  const kindsReached = new Set<string>([...(await lotsNamed(reader, reached)).values()].map((lot) => lot.kind));
  if (['boil', 'pack'].includes(kind.kind)) kindsReached.add(kind.kind);
  for (const each of kindsReached) await rowsByKey(sql, { table: 'record', sugarhouse, kind: each }, reached);
  await rowsByKey(sql, { table: 'record', sugarhouse, kind: kind.kind }, [
    ...own,
    ...(await nextIds(reader, kind, rows.length)),
  ]);
  await rowsBy(sql, { table: 'flow', column: 'from_lot', sugarhouse }, reached);
  await rowsBy(sql, { table: 'record', column: 'lot', sugarhouse, kinds: judgedKinds }, reached);
  if (!['pack', 'dispatch', 'count'].includes(kind.kind)) return;
  await rowsBy(sql, { table: 'movement', column: 'lot', sugarhouse }, reached);
  await rowsBy(sql, { table: 'shelf_count', column: 'lot', sugarhouse }, reached);
}
