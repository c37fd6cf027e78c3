import { findEntry, readFrontier } from '#libs/store/log/log.js';
import type { Sql } from '#libs/store/connection/sql.js';
import type { WriteContext, SugarhouseContext } from './write-context.js';
import { type Refusal, refused } from './problem.js';

/** Clocks may differ a little; beyond this, one of them has jumped. */
const clockToleranceMinutes = 5;

/**
 * A small computer without a battery may start with a date years ago, or that of the power cut. Nothing is written with
 * a time before the last entry's; before the first entry after a start, the server's clock is compared with that of the
 * writer's phone. A person who has checked can confirm that the clock is right.
 */
export async function refuseWrongClock(
  sql: Sql,
  context: WriteContext,
  houseContext: SugarhouseContext,
): Promise<Refusal | undefined> {
  if (context.clockIsRight || houseContext.house?.practice) return undefined;
  const { entries } = await readFrontier(sql);
  const last = entries === 0 ? undefined : await findEntry(sql, entries);
  const clock = `This machine's clock says ${minute(context.now)} UTC`;
  if (last && context.now.getTime() < Date.parse(last.typedAt) - clockToleranceMinutes * 60_000)
    return refused(
      'clock',
      `${clock}, but the last entry was written ${last.typedAt}. Set the clock, then send it again. If the clock is right now and was wrong then, confirm it (book: --clock-is-right).`,
    );
  const ahead = farAheadText(context.now, last?.typedAt);
  if (ahead)
    return refused(
      'clock',
      `${clock}, ${ahead}. Set the clock, then send it again. If the clock is right, confirm it (book: --clock-is-right).`,
    );
  const { phone } = context;
  const firstSinceStart = phone && (!last || Date.parse(last.typedAt) < phone.serverBegan.getTime());
  if (firstSinceStart && Math.abs(phone.clock.getTime() - context.now.getTime()) > clockToleranceMinutes * 60_000)
    return refused(
      'clock',
      `${clock}, but the phone or computer you write on says ${minute(phone.clock)} UTC. Set the one that is wrong, then send it again.`,
    );
  return undefined;
}

/** A book may be unused for some years; lot codes and seasons have two-digit years of this century. */
const maxYearsWithoutEntry = 10;

function farAheadText(now: Date, last: string | undefined): string | undefined {
  if (now.getUTCFullYear() >= 2100) return 'and lot codes go as far as 2099';
  const restMs = last === undefined ? 0 : now.getTime() - Date.parse(last);
  return restMs > maxYearsWithoutEntry * 365.25 * 86_400_000
    ? `more than ${maxYearsWithoutEntry} years after the last entry, written ${last}`
    : undefined;
}

const minute = (moment: Date): string => moment.toISOString().slice(0, 16);
