import { findEntry, readFrontier } from '#libs/records/log.js';
import type { Sql } from '#libs/records/sql.js';
import type { Desk, Ground } from './desk.js';
import { type Refusal, refused } from './problem.js';

/** A clock may be set a little; more than this it has jumped. */
const setBackMinutes = 5;

/**
 * A small board without a battery wakes up years ago. Nothing is written with a time before the last entry's,
 * unless somebody has looked at the clock and says that it is right.
 */
export async function clockProblem(sql: Sql, desk: Desk, ground: Ground): Promise<Refusal | undefined> {
  if (desk.clockIsRight || ground.house?.practice) return undefined;
  const { entries } = await readFrontier(sql);
  const last = entries === 0 ? undefined : await findEntry(sql, entries);
  if (!last || desk.now.getTime() >= Date.parse(last.typedAt) - setBackMinutes * 60_000) return undefined;
  return refused(
    'clock',
    `This machine's clock says ${desk.now.toISOString().slice(0, 16)} UTC, but the last entry was written ${last.typedAt}. Set the clock, then send it again; if it is right now and was wrong then, say so: book with --clock-is-right.`,
  );
}
