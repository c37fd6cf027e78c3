import type { NumberedEntry } from '#libs/records/entry.js';
import { findEntry, historyOf } from '#libs/store/log/log.js';
import { findLot, type StoredRecord } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import type { WriteContext } from './write-context.js';
import type { Refusal } from './problem.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * Whether somebody wrote about the lot since the writer last saw it: then that last entry is shown, and nothing is
 * written until the request is repeated. `onlyAddsLine` is true where the write only adds a line to a lot's log.
 */
export async function refuseIfChanged(
  sql: Sql,
  context: WriteContext,
  code: string,
  onlyAddsLine = false,
): Promise<Refusal | undefined> {
  if (context.seen === undefined) return undefined;
  const lot = await findLot(sugarhouseReader(sql, context.sugarhouse), code);
  if (!lot) return undefined;
  if (!context.seenOnPage) return refuseOtherVersion(sql, context.seen, code, [lot.lastSeq]);
  if (lot.lastSeq <= context.seen) return undefined;
  const last = (await findUnseenEntries(sql, context, code, onlyAddsLine)).at(-1);
  return last && changedSinceRefusal(code, last);
}

/**
 * The same before a record is corrected or added to. A script names the version it has read: the last entry about the
 * record itself, or about the lot that the record belongs to. A record that belongs to no lot has versions too.
 */
export async function refuseIfRecordChanged(
  sql: Sql,
  context: WriteContext,
  saved: StoredRecord,
  onlyAddsLine = false,
): Promise<Refusal | undefined> {
  const code = saved.lot ?? saved.id;
  if (context.seen === undefined) return undefined;
  if (context.seenOnPage) return refuseIfChanged(sql, context, code, onlyAddsLine);
  const lot = await findLot(sugarhouseReader(sql, context.sugarhouse), code);
  // Of a lot, the version is the last entry about it, whatever wrote that.
  const own = lot?.code === saved.id ? [] : [saved.lastSeq];
  return refuseOtherVersion(sql, context.seen, saved.id, [...own, ...(lot ? [lot.lastSeq] : [])]);
}

/** A number that is no version is another book's, or from before a backup was restored: nothing is known of it. */
async function refuseOtherVersion(
  sql: Sql,
  seen: number,
  about: string,
  versions: readonly number[],
): Promise<Refusal | undefined> {
  if (versions.includes(seen)) return undefined;
  const last = await findEntry(sql, Math.max(...versions));
  return last && changedSinceRefusal(about, last);
}

const changedSinceRefusal = (lot: string, last: NumberedEntry): Refusal => ({
  problem: { kind: 'changed-since', lot, entry: last.seq, by: last.by, at: last.typedAt },
});

/**
 * Entries about a lot that its writer has not seen. A person on a page knows what they wrote themselves, and two people
 * reading jars in turn only add lines: neither is stopped by the other's. A script is refused for any newer entry, for
 * its key may be shared.
 */
export async function findUnseenEntries(
  sql: Sql,
  context: Pick<WriteContext, 'sugarhouse' | 'author' | 'seen' | 'seenOnPage'>,
  code: string,
  onlyAddsLine = false,
): Promise<NumberedEntry[]> {
  const { seen } = context;
  if (seen === undefined) return [];
  const history = await historyOf(sugarhouseReader(sql, context.sugarhouse), code);
  const since = history.filter((entry) => entry.seq > seen);
  if (!context.seenOnPage) return since;
  return since.filter((entry) => entry.author !== context.author && !(onlyAddsLine && isCompatible(entry, history)));
}

/** A line of a boil's log or a draw-off changes none of the lines before it. */
const lineKinds: readonly string[] = ['line', 'draw'];

/** Whether a request only adds a line: to the log, or a reading in the jar to existing ones. */
export const addsLine = (kind: string, isNew: boolean, added: readonly string[] | undefined): boolean =>
  isNew ? lineKinds.includes(kind) : added !== undefined && added.length > 0 && added.every(isReading);

const isReading = (field: string): boolean => field === 'fillTemps';

function isCompatible(entry: NumberedEntry, history: readonly NumberedEntry[]): boolean {
  const { record, entryType } = entry;
  if (!record) return false;
  if (entryType === 'record') return lineKinds.includes(record.kind);
  if (entryType !== 'add') return false;
  const before = history.findLast(
    (each) => each.seq < entry.seq && each.record?.kind === record.kind && each.record.id === record.id,
  )?.record?.typed;
  const names = Object.keys({ ...before, ...record.typed });
  return before !== undefined && names.every((name) => isReading(name) || before[name] === record.typed[name]);
}
