import { findUnseenEntries } from '#libs/actions/record/concurrency-check.js';
import type { Problem } from '#libs/actions/record/problem.js';
import { lookUpLot } from '#libs/actions/record/references.js';
import { momentIn } from '#libs/actions/record/times.js';
import { historyOf, readHead } from '#libs/store/log/log.js';
import type { HistoryLine } from '#pages/parts/history.js';
import { type Principal, readerOf } from '../http/principal.js';
import { historyLinesOf } from '../text/history.js';
import { formContext } from './form-view.js';

export interface LastSeen {
  /** The value of `_seen`: the last log entry that this page takes into account. */
  readonly seen?: number;
  /** What others wrote since the filled form was opened. */
  readonly newerEntries?: readonly HistoryLine[];
}

/**
 * What a form about a lot sends back so that a newer entry isn't overlooked. Call it before the page reads the lot.
 * Without a code, where the lot is chosen in the form itself, it is the last entry of the book.
 */
export async function lastSeenFor(
  principal: Principal,
  problem: Problem | undefined,
  code?: string,
): Promise<LastSeen> {
  const { read } = principal.book;
  const { seen: seenEarlier, sugarhouse } = principal.writeContext;
  // A form shown again for another fault hasn't shown what others wrote, so the check stays.
  if (problem && problem.kind !== 'changed-since' && seenEarlier !== undefined) return { seen: seenEarlier };
  const seen =
    code === undefined ? (await readHead(read)).entries : (await lookUpLot({ sql: read, sugarhouse }, code))?.lastSeq;
  return {
    ...(seen === undefined ? {} : { seen }),
    ...(problem?.kind === 'changed-since' ? { newerEntries: await entriesSince(principal, problem.lot) } : {}),
  };
}

async function entriesSince(principal: Principal, lot: string): Promise<HistoryLine[]> {
  const newSeqs = new Set(
    (await findUnseenEntries(principal.book.read, principal.writeContext, lot)).map((entry) => entry.seq),
  );
  const { parseOptions: options } = await formContext(principal);
  const history = await historyOf(readerOf(principal), lot);
  return historyLinesOf(history, momentIn(options.zone, principal.writeContext.now)).filter((line) =>
    newSeqs.has(line.entry),
  );
}
