import type { NumberedEntry } from '#libs/records/entry.js';
import { signedOf } from '../text/signed.js';

/**
 * An entry for anyone who may read the record. The seed of its jar codes stays in the log: it would reveal all of them.
 */
export const historyView = (entry: NumberedEntry) => ({
  entry: entry.seq,
  deed: entry.entryType,
  ...signedOf(entry),
  happenedAt: entry.happenedAt,
  typedAt: entry.typedAt,
  about: entry.about,
  ...(entry.record ? { record: { kind: entry.record.kind, id: entry.record.id, typed: entry.record.typed } } : {}),
  ...(entry.judged ? { judged: entry.judged } : {}),
  ...(entry.jars ? { jars: { from: entry.jars.from, count: entry.jars.count } } : {}),
  ...(entry.corrects === undefined ? {} : { corrects: entry.corrects }),
  ...(entry.why === undefined ? {} : { why: entry.why }),
  ...(entry.from === undefined ? {} : { from: entry.from }),
});
export type HistoryView = ReturnType<typeof historyView>;
