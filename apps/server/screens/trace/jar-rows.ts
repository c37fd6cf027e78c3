import type { Trace, TracedDispatch } from '#libs/actions/lots/trace-lot.js';
import { movementsNaming, someJarsDownstream } from '#libs/store/queries/jars-downstream.js';
import { lotsNamed } from '#libs/store/connection/batch-queries.js';
import { overlapsSpans } from '#libs/syrup/jars/jar-spans.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import type { Principal } from '../../http/principal.js';
import { rowsPerPage, firstRow, pagedRows, type ListOptions } from '../../text/paged-rows.js';

/** The packs whose jars are below a lot: for a pack itself, whatever was poured into it. */
export const packsDownstream = (trace: Trace): string[] =>
  trace.pack ? [trace.pack] : trace.packs.map((pack) => pack.lot);

/** A hundred jars, each with its dispatch where one names it, and how many there are in all. */
export async function jarListPart(
  principal: Principal,
  packs: readonly string[],
  dispatches: readonly TracedDispatch[],
  { from: query, ...options }: ListOptions & { readonly from: string },
) {
  const { read } = principal.book;
  const { sugarhouse } = principal.writeContext;
  const from = firstRow(query);
  const { count, jars } = await someJarsDownstream({ sql: read, sugarhouse }, packs, { from, most: rowsPerPage });
  const named = await movementsNaming(
    { sql: read, sugarhouse },
    jars.map((jar) => jar.code),
  );
  const wanted = new Set([...named.values()].flat());
  const byId = new Map(dispatches.filter((each) => wanted.has(each.id)).map((each) => [each.id, each]));
  const byCount = new Set(dispatches.filter((each) => !each.planned && !each.byCodes).map((each) => each.lot));
  const shown = await lotsNamed({ sql: read, sugarhouse }, [...new Set(jars.map((jar) => jar.pack))]);
  const isAmong = (pack: string, n: number, which: 'gone' | 'unsealed'): boolean =>
    overlapsSpans(shown.get(pack)?.verdict?.[which] ?? [], { from: n, to: n });
  const rows = jars.map((jar) => {
    const last = byId.get(named.get(jar.code)?.at(-1) ?? '');
    return {
      code: printedJarCode(jar.code),
      pack: jar.pack,
      n: jar.n,
      where: isAmong(jar.pack, jar.n, 'gone')
        ? 'destroyed or poured back'
        : isAmong(jar.pack, jar.n, 'unsealed') && !last
          ? 'its seal failed: not for sale'
          : whereabouts(last, byCount.has(jar.pack)),
    };
  });
  return pagedRows(rows, from, count, options);
}

const whereabouts = (last: TracedDispatch | undefined, mayHaveGone: boolean): string => {
  if (last)
    return `${last.planned ? 'planned for' : last.kind === 'returned' ? 'returned from' : `${last.kind},`} ${last.to}`;
  return mayHaveGone ? 'on hand, or sent without its code' : 'on hand by the records';
};
