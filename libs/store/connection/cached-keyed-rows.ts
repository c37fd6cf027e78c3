import { isTable } from './cached-answers.js';
import {
  columnsOf,
  countRows,
  type KeyedRows,
  type KeyedTable,
  keyOf,
  type KeyStart,
  placeOf,
  readRows,
} from './rows-by-key.js';
import type { WriteCache } from './write-cache.js';
import type { Row } from './sql.js';

/** Rows by their keys, each alone in a list, which is empty where there is no row: by table, house, kind and last column. */
function knownRows() {
  const byTable = { lot: new Map<string, RowsOfHouse>(), record: new Map<string, RowsOfHouse>() };
  let rowsKnown = 0;
  const forget = (table: KeyedTable): void => {
    for (const ofKinds of byTable[table].values()) for (const rows of ofKinds.values()) rowsKnown -= rows.size;
    byTable[table].clear();
  };
  return {
    find: (start: KeyStart, last: string): readonly Row[] | undefined =>
      byTable[start.table].get(start.sugarhouse)?.get(kindOf(start))?.get(last),
    keep: (start: KeyStart, last: string, rows: readonly Row[]): void => {
      if (rowsKnown > mostRows) for (const table of ['lot', 'record'] as const) forget(table);
      const { sugarhouse } = start;
      const ofHouse = byTable[start.table].get(sugarhouse) ?? new Map<string, Map<string, readonly Row[]>>();
      byTable[start.table].set(sugarhouse, ofHouse);
      const ofKind = ofHouse.get(kindOf(start)) ?? new Map<string, readonly Row[]>();
      ofHouse.set(kindOf(start), ofKind);
      for (const row of rows) Object.freeze(row);
      if (!ofKind.has(last)) rowsKnown++;
      ofKind.set(last, rows);
    },
    forget,
  };
}
type RowsOfHouse = Map<string, Map<string, readonly Row[]>>;
/** Past it all are forgotten: a long file must not hold the whole book. */
const mostRows = 30_000;
const kindOf = (start: KeyStart): string => ('kind' in start ? start.kind : '');

/** Lots and records by their keys, and how many records there are of a kind. */
export function cachedKeyedRows(cache: WriteCache) {
  const { plain, answers, groups, unwritten, flush, isChecked, compare } = cache;
  const known = knownRows();
  const counts = new Map<string, number>();

  /** A row that waits is as new as the one that is known; it stays where all that is known was forgotten. */
  const find = (start: KeyStart, last: string): readonly Row[] | undefined => {
    const rows = known.find(start, last);
    if (rows) return rows;
    const waiting = unwritten.find(start.table, nameOf(start, last));
    return waiting && [waiting];
  };

  const read = async (start: KeyStart, last: readonly string[]): Promise<Row[]> => {
    const [only = ''] = last;
    const one = last.length === 1 && !isChecked ? find(start, only) : undefined;
    if (one) return one.slice();
    const answer: Row[] = [];
    const unknown: string[] = [];
    for (const each of new Set(last)) {
      const rows = find(start, each);
      if (rows) answer.push(...rows);
      else unknown.push(each);
    }
    if (unknown.length > 0) {
      const before = answers.writes();
      const rows = await readRows(plain, start, unknown);
      answer.push(...rows);
      const byKey = new Map(rows.map((row) => [placeOf(start.table, row).last, [row]]));
      if (before === answers.writes()) for (const each of unknown) known.keep(start, each, byKey.get(each) ?? []);
    }
    if (isChecked) await compare(nameOf(start, last.join(' ')), answer, () => readRows(plain, start, last));
    return answer;
  };

  const write = async (table: KeyedTable, row: Row, before: Row | undefined): Promise<void> => {
    const { start, last } = placeOf(table, row);
    const whole: Row = {};
    for (const column of columnsOf(table)) whole[column] = row[column] ?? null;
    answers.forget(table, 'kind' in start ? [start.kind] : []);
    known.keep(start, last, [whole]);
    unwritten.put(table, nameOf(start, last), whole);
    if (table === 'record') {
      groups.wrote(table, whole, before);
      const count = counts.get(countName(start));
      if (!before && count !== undefined) counts.set(countName(start), count + 1);
    }
    if (unwritten.areMany(table)) await flush(new Set([table]));
  };

  const rows: KeyedRows = {
    known: (start, last) => (isChecked ? undefined : find(start, last)),
    read,
    put: async (table, row, stays) => {
      const { start, last } = placeOf(table, row);
      const [before] = rows.known(start, last) ?? (await read(start, [last]));
      const kept = before && Object.fromEntries(stays.map((each) => [each, before[each] ?? null]));
      await write(table, { ...row, ...kept }, before);
    },
    change: async (start, last, columns) => {
      const [before] = rows.known(start, last) ?? (await read(start, [last]));
      if (before) await write(start.table, { ...before, ...columns }, before);
    },
    count: async (start) => {
      const counted = counts.get(countName(start));
      if (counted !== undefined && !isChecked) return counted;
      await flush(new Set(['record']), [start.kind]);
      const count = await countRows(plain, start);
      if (counted !== undefined && counted !== count) throw new Error(`A write knew an old number of ${start.kind}`);
      counts.set(countName(start), count);
      return count;
    },
  };
  /** After a statement wrote to this table; where the table isn't known, it may have written to any. */
  const forget = (table: string | undefined): void => {
    const isAny = table === undefined || !isTable(table);
    if (isAny || table === 'record') counts.clear();
    for (const each of ['lot', 'record'] as const) if (isAny || table === each) known.forget(each);
  };
  return { rows, forget };
}

const countName = (start: KeyStart): string => JSON.stringify(keyOf(start, '').slice(0, -1));
/** No sugarhouse's key and no kind holds a line break, so that no two rows have the same name. */
const nameOf = (start: KeyStart, last: string): string =>
  start.table === 'lot' ? `lot\n${start.sugarhouse}\n${last}` : `record\n${start.sugarhouse}\n${start.kind}\n${last}`;
