import { housesOf } from '../household/houses.js';
import { type LotColumns, lotFrom } from '../queries/lots.js';
import type { Sql } from '../connection/sql.js';
import { readHead, walkLog } from './log.js';

/**
 * The whole log as one JSON value, in pieces of text: every entry as it was hashed, with its leaf hash and number, and
 * the state of each lot. `apps/verifier` recomputes the root and the holds from it. Needs a snapshot, so that log and
 * lots are consistent. The entries contain the seeds of the jar codes: only the owner should give it to anyone.
 */
export async function* exportRecord(sql: Sql, at: Date): AsyncGenerator<string> {
  const { entries, root } = await readHead(sql);
  const sugarhouses = (await housesOf(sql)).map(({ key, name }) => ({ key, name }));
  const head = { format: 'boilbook-record-1', exportedAt: at.toISOString(), sugarhouses, entries, root };
  yield `${JSON.stringify(head).slice(0, -1)},"log":[`;
  let separator = '\n';
  for await (const { seq, leaf, json } of walkLog(sql)) {
    yield `${separator}${JSON.stringify({ seq, leaf, text: json })}`;
    separator = ',\n';
  }
  yield '\n],"lots":[';
  separator = '\n';
  for await (const { sugarhouse, ...columns } of walkLots(sql)) {
    const { code, kind, state, heldSince, verdict } = lotFrom(columns);
    const stops = verdict?.findings.filter(({ stop }) => stop) ?? [];
    const holds = [...new Set(stops.map(({ rule }) => rule))];
    yield `${separator}${JSON.stringify({ sugarhouse, lot: code, kind, state, heldSince: heldSince ?? null, holds })}`;
    separator = ',\n';
  }
  yield '\n]}\n';
}

/** Every lot of every sugarhouse in the order of its key, a thousand at a time. */
async function* walkLots(sql: Sql): AsyncGenerator<LotColumns & { sugarhouse: string }> {
  let [house, code] = ['', ''];
  for (;;) {
    const some = await sql.rows<LotColumns & { sugarhouse: string }>`SELECT * FROM lot
      WHERE (sugarhouse, code) > (${house}, ${code}) ORDER BY sugarhouse, code LIMIT 1000`;
    yield* some;
    const end = some.at(-1);
    if (!end) return;
    [house, code] = [end.sugarhouse, end.code];
  }
}
