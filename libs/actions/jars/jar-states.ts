import { utcOf } from '#libs/store/connection/instants.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { codesByMovement, hasMoved, type Movement, movementsOf, movementsOfJar } from '#libs/store/queries/trace.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { overlapsSpans } from '#libs/syrup/jars/jar-spans.js';
import { type JarState, jarStateOf } from '#libs/syrup/jars/jar-state.js';
import { findHeldByTodaysRules } from '../lots/held-now.js';
import { isSetApart } from './returned-jars-apart.js';
import type { JudgingContext } from '../judging/judging-context.js';
import { type DispatchClearance, dispatchClearanceOf } from './dispatch-clearance.js';

interface NumberedJar {
  readonly n: number;
  readonly code: string;
}

/** Whether one jar of a pack is recalled, held, destroyed or set apart, by the stored verdict and by today's rules. */
export async function jarState(
  book: { readonly read: Sql },
  judging: JudgingContext,
  lot: Lot,
  jar: NumberedJar & { readonly movements?: readonly Movement[] | undefined },
): Promise<JarState> {
  const clearance = await clearanceByTodaysRules(book, judging, lot);
  const now = utcOf(judging.houseContext.parseOptions.now);
  const moved = jar.movements ?? (await movementsOfJar(judging, jar.code));
  return jarStateFrom(clearance, jar, moved.filter((each) => hasMoved(each, now)).at(-1));
}

/** The same for a pack as a whole, for somebody who knows its lot and not the jar. */
export async function packState(
  book: { readonly read: Sql },
  judging: JudgingContext,
  pack: Lot,
): Promise<'free' | 'recalled' | 'held' | 'some held'> {
  const { lot, which } = await clearanceByTodaysRules(book, judging, pack);
  if (lot.state === 'recalled') return 'recalled';
  return which === 'all' ? 'free' : which === 'none' ? 'held' : 'some held';
}

/** The same for every jar of a pack, read together. */
export async function jarStates(
  book: { readonly read: Sql },
  judging: JudgingContext,
  lot: Lot,
): Promise<(jar: NumberedJar) => JarState> {
  const { sql, sugarhouse, houseContext } = judging;
  const clearance = await clearanceByTodaysRules(book, judging, lot);
  const now = utcOf(houseContext.parseOptions.now);
  const codes = await codesByMovement({ sql, sugarhouse }, [lot.code]);
  const last = new Map<string, Movement>();
  for (const movement of await movementsOf({ sql, sugarhouse }, [lot.code]))
    if (hasMoved(movement, now)) for (const code of codes.get(movement.id) ?? []) last.set(code, movement);
  return (jar) => jarStateFrom(clearance, jar, last.get(jar.code));
}

const clearanceByTodaysRules = async (
  book: { readonly read: Sql },
  judging: JudgingContext,
  lot: Lot,
): Promise<DispatchClearance> => dispatchClearanceOf(judging, (await findHeldByTodaysRules(book, judging, lot)) ?? lot);

function jarStateFrom(
  { lot, which, held }: DispatchClearance,
  { n }: NumberedJar,
  last: Movement | undefined,
): JarState {
  return jarStateOf({
    recalled: lot.state === 'recalled',
    held: which === 'none' || (which === 'some' && overlapsSpans(held, { from: n, to: n })),
    destroyed: last?.kind === 'destroyed' || overlapsSpans(lot.verdict?.gone ?? [], { from: n, to: n }),
    unsealed: overlapsSpans(lot.verdict?.unsealed ?? [], { from: n, to: n }),
    setApart: last !== undefined && isSetApart(last),
  });
}
