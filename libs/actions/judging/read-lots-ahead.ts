import { lotsNamed } from '#libs/store/connection/batch-queries.js';
import { rowsBy } from '#libs/store/connection/row-groups.js';
import { rowsByKey } from '#libs/store/connection/rows-by-key.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { judgedKinds } from './records-for-judging.js';

/**
 * The codes in their order. Where there are many, as after a change of the house's place, what judging them needs is read
 * for some hundred at a time, and other requests are let through in between.
 */
export async function* lotsInOrder(reader: SugarhouseReader, codes: readonly string[]): AsyncGenerator<string> {
  const areMany = codes.length >= fewestReadAhead;
  for (const [n, code] of codes.entries()) {
    if (areMany && n % lotsReadAhead === 0)
      await readLotsAhead(reader, codes.slice(n, n + lotsReadAhead), { withJars: true });
    if (areMany && n % lotsBetweenYields === 0) await new Promise((resolve) => setImmediate(resolve));
    yield code;
  }
}
/** Most records affect a few lots, which the write may have read already. */
const fewestReadAhead = 20;
/** With many more, the first ones would be forgotten before they are judged. */
const lotsReadAhead = 200;
/** Judging them takes some 20 ms. */
const lotsBetweenYields = 20;

/**
 * Reads together, in a write transaction, what judging these lots looks up one by one: the lots that they came from, and
 * the records about all of them, their flows and, `withJars`, what moved and counted their jars. Codes of lots that
 * don't exist yet are allowed; `newKinds` are the kinds of those. Outside a write nothing is cached and nothing read.
 */
export async function readLotsAhead(
  reader: SugarhouseReader,
  codes: readonly string[],
  { withJars, newKinds = [] }: { readonly withJars: boolean; readonly newKinds?: readonly string[] },
): Promise<void> {
  const { sql, sugarhouse } = reader;
  if (!sql.grouped) return;
  const reached = await sql.grouped.walk({ sugarhouse, from: 'into_lot' }, codes);
  const lots = await lotsNamed(reader, reached);
  const unknown = reached.filter((code) => !lots.has(code));
  for (const kind of new Set<string>([...[...lots.values()].map((lot) => lot.kind), ...newKinds])) {
    const own = reached.filter((code) => lots.get(code)?.kind === kind);
    await rowsByKey(sql, { table: 'record', sugarhouse, kind }, newKinds.includes(kind) ? [...own, ...unknown] : own);
  }
  await rowsBy(sql, { table: 'flow', column: 'from_lot', sugarhouse }, reached);
  await rowsBy(sql, { table: 'record', column: 'lot', sugarhouse, kinds: judgedKinds }, reached);
  if (!withJars) return;
  await rowsBy(sql, { table: 'movement', column: 'lot', sugarhouse }, reached);
  await rowsBy(sql, { table: 'shelf_count', column: 'lot', sugarhouse }, reached);
}
