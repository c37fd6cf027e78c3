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

/** Reads lots and records by their keys and keeps what it finds, there or not. */
function keyedReader({ plain, answers, unwritten, isChecked, compare }: WriteCache) {
  const keep = (start: KeyStart, last: string, rows: readonly Row[]): void =>
    answers.keep(nameOf(start, last), rows, [[start.table, [ownPart(start, last)]]]);

  const known = (start: KeyStart, last: string): readonly Row[] | undefined => {
    const name = nameOf(start, last);
    const row = unwritten.find(start.table, name);
    return row ? [row] : (answers.find(name) as readonly Row[] | undefined);
  };

  const read = async (start: KeyStart, last: readonly string[]): Promise<Row[]> => {
    const [only = ''] = last;
    const one = last.length === 1 && !isChecked ? known(start, only) : undefined;
    if (one) return [...one];
    const answer: Row[] = [];
    const unknown: string[] = [];
    for (const each of new Set(last)) {
      const rows = known(start, each);
      if (rows) answer.push(...rows);
      else unknown.push(each);
    }
    if (unknown.length > 0) {
      const before = answers.writes();
      const rows = await readRows(plain, start, unknown);
      answer.push(...rows);
      const byKey = new Map(rows.map((row) => [placeOf(start.table, row).last, [row]]));
      if (before === answers.writes()) for (const each of unknown) keep(start, each, byKey.get(each) ?? []);
    }
    if (isChecked) await compare(nameOf(start, last.join(' ')), answer, () => readRows(plain, start, last));
    return answer;
  };
  return { read, keep };
}

/** Lots and records by their keys, and how many records there are of a kind. */
export function cachedKeyedRows(cache: WriteCache) {
  const { plain, answers, groups, unwritten, flush, isChecked } = cache;
  const { read, keep } = keyedReader(cache);
  const counts = new Map<string, number>();

  const write = async (table: KeyedTable, row: Row, before: Row | undefined): Promise<void> => {
    const { start, last } = placeOf(table, row);
    const whole = Object.fromEntries(columnsOf(table).map((column) => [column, row[column] ?? null]));
    answers.forget(table, [ownPart(start, last), ...('kind' in start ? [start.kind] : [])]);
    keep(start, last, [whole]);
    unwritten.put(table, nameOf(start, last), whole);
    if (table === 'record') {
      groups.wrote(table, whole, before);
      const count = counts.get(countName(start));
      if (!before && count !== undefined) counts.set(countName(start), count + 1);
    }
    if (unwritten.areMany(table)) await flush(new Set([table]));
  };

  const rows: KeyedRows = {
    read,
    put: async (table, row, stays) => {
      const { start, last } = placeOf(table, row);
      const [before] = await read(start, [last]);
      const kept = before && Object.fromEntries(stays.map((each) => [each, before[each] ?? null]));
      await write(table, { ...row, ...kept }, before);
    },
    change: async (start, last, columns) => {
      const [before] = await read(start, [last]);
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
  return { rows, forgetCounts: (): void => counts.clear() };
}

const countName = (start: KeyStart): string => JSON.stringify(keyOf(start, '').slice(0, -1));
/** No sugarhouse's key and no kind holds a line break, so that no two rows have the same name. */
const nameOf = (start: KeyStart, last: string): string =>
  start.table === 'lot' ? `lot\n${start.sugarhouse}\n${last}` : `record\n${start.sugarhouse}\n${start.kind}\n${last}`;
/** What a look-up of one row reads: no kind has a space. */
const ownPart = (start: KeyStart, last: string): string => ('kind' in start ? `${start.kind} ${last}` : last);
