import type { EntryType } from '#libs/records/entry.js';
import type { RecordKind } from '#libs/records/record-types.js';
import type { Sql } from '../connection/sql.js';
import { walkLog } from '../log/log.js';
import { lotsDownstream, lotsUpstream } from '../queries/trace.js';
import type { Staged } from './staged-tables.js';
import { parseEntry } from '../log/entry-json.js';

/**
 * Kinds that concern only the lots they name and those upstream and downstream. Any other (a check of a thermometer, a
 * cleaning, the house) may change the verdict on any lot.
 */
const ofItsLotsOnly: Readonly<Partial<Record<RecordKind, readonly EntryType[]>>> = {
  pack: ['add'],
  gathering: ['record'],
  draw: ['record'],
  line: ['record'],
  dispatch: ['record'],
  count: ['record'],
  labels: ['record'],
};

/**
 * Whether entries after `after` may affect what is staged: a lot that is staged or named by it, a lot up- or downstream
 * of it, a record with the same id, or a kind of entry that may affect anything.
 */
export async function touchedConcurrently(sql: Sql, staged: Staged, after: number): Promise<boolean> {
  const looked = new Set<string>();
  for await (const { json } of walkLog(sql, after)) {
    const entry = parseEntry(json);
    const { record, sugarhouse } = entry;
    const concerns = await staged.concerns();
    if (!record || entry.jars || !ofItsLotsOnly[record.kind]?.includes(entry.entryType)) return true;
    // The copy numbered its entries itself; one that refers to another of its own would now have a wrong number.
    if (concerns.namesItself || concerns.records.has(`${sugarhouse} ${record.kind} ${record.id}`)) return true;
    for (const lot of [...entry.about, ...(record.lot ? [record.lot] : [])]) {
      if (looked.has(`${sugarhouse} ${lot}`)) continue;
      looked.add(`${sugarhouse} ${lot}`);
      const around = [
        ...(await lotsUpstream({ sql, sugarhouse }, lot)),
        ...(await lotsDownstream({ sql, sugarhouse }, lot)),
      ];
      if ([lot, ...around.map(({ code }) => code)].some((code) => concerns.lots.has(`${sugarhouse} ${code}`)))
        return true;
    }
  }
  return false;
}
