import {
  keyOf,
  type ReadScope,
  type RowsRead,
  scopeOf,
  type StatementScope,
  termValues,
  type WriteScope,
} from './statement-scope.js';
import { sqlAsking, type Sql, type SqlValue } from './sql.js';

/** The statements of one write transaction, see `keepingReads`. */
export interface KeptReads {
  readonly sql: Sql;
  /** Writes the rows that wait: before the commit, and before anything else asks the connection itself. */
  readonly flush: () => Promise<void>;
}

interface Answer {
  readonly scope: ReadScope;
  readonly rows: readonly unknown[];
  readonly parts: readonly Part[];
}

/** Rows that an answer was read from, by the values that they have, and where it is looked for when they change. */
interface Part {
  readonly table: string;
  readonly finds: ReadonlyMap<string, ReadonlySet<string>>;
  readonly shelf: string;
  readonly places: readonly string[];
}

/** Forgotten all at once: a file of ten thousand rows must not hold the whole book. */
const mostAnswers = 4000;
const mostRows = 500;
const mostWaiting = 200;

/**
 * Asks a question once in a write transaction, until something is written that may change its answer. The transaction
 * holds the book's lock, so nobody else writes meanwhile. Rows of a file ask the same of their boils, thermometers and
 * cleanings hundreds of times, and every answer costs a turn of the driver's threads or a trip to the server.
 *
 * Rows of the log and of the histories wait and are written together, once something reads their table.
 */
export function keepingReads(plain: Sql): KeptReads {
  const answers = new Map<string, Answer>();
  const index = keptByRows();
  const others = new Set<string>();
  const waiting = new Map<string, { readonly columns: readonly string[]; readonly lines: (readonly SqlValue[])[] }>();
  let writes = 0;

  const forgetAll = (): void => {
    for (const each of [answers, index, others]) each.clear();
  };
  const keep = (key: string, scope: ReadScope, values: readonly SqlValue[], rows: readonly unknown[]): void => {
    if (rows.length > mostRows) return;
    if (answers.size >= mostAnswers) forgetAll();
    for (const row of rows) Object.freeze(row);
    const parts = (scope.parts ?? []).map((part) => partOf(part, values));
    answers.set(key, { scope, rows, parts });
    if (scope.parts === undefined) others.add(key);
    for (const part of parts) index.add(part, key);
  };

  /** `known` is what is certain of the rows that come, go or change. */
  const forgetChanged = (table: string, known: ReadonlyMap<string, string>, sets?: readonly string[]): void => {
    const isConcerned = ({ scope, parts }: Answer): boolean => {
      if (sets && !scope.words.has('*') && !sets.some((column) => scope.words.has(column))) return false;
      return scope.parts === undefined
        ? scope.words.has(table)
        : parts.some((part) => part.table === table && mayMatch(part, known));
    };
    for (const key of [...others, ...index.found(table, known)]) {
      const answer = answers.get(key);
      if (!answer || !isConcerned(answer)) continue;
      answers.delete(key);
      others.delete(key);
      for (const part of answer.parts) index.remove(part, key);
    }
  };

  const flush = async (named?: ReadonlySet<string>): Promise<void> => {
    for (const [table, { columns, lines }] of [...waiting]) {
      if (named && !named.has(table)) continue;
      waiting.delete(table);
      await plain.insert(table, columns, lines);
    }
  };

  const ask = async (text: string, values: readonly SqlValue[]): Promise<unknown[]> => {
    const scope = scopeOfText(text);
    if (scope.does === 'read') {
      const key = `${text}\n${JSON.stringify(values)}`;
      const kept = answers.get(key);
      if (kept) return [...kept.rows];
      if (waiting.size > 0) await flush(scope.words);
      const before = writes;
      const rows = await plain.statement<unknown>(text, values);
      if (before === writes) keep(key, scope, values, rows);
      return [...rows];
    }
    for (const table of [...waiting.keys()])
      if (scope.does === 'other' || new RegExp(`\\b${table}\\b`).test(text)) await flush(new Set([table]));
    writes++;
    const answer = await plain.statement<unknown>(text, values);
    if (scope.does === 'write') forgetChanged(scope.table, knownBy(scope, values), scope.sets);
    else forgetAll();
    return answer;
  };

  return {
    flush: () => flush(),
    sql: {
      ...sqlAsking(plain.engine, ask),
      insert: async (table, columns, lines) => {
        writes++;
        if (mayWait.has(table)) {
          const already = waiting.get(table);
          if (already) already.lines.push(...lines);
          else waiting.set(table, { columns, lines: [...lines] });
          if ((already?.lines.length ?? 0) >= mostWaiting) await flush(new Set([table]));
        } else await plain.insert(table, columns, lines);
        for (const line of lines)
          forgetChanged(table, new Map(columns.map((column, n) => [column, String(line[n] ?? null)])));
      },
    },
  };
}

/** Their rows are only added, by one place each, and few statements of a write read them. */
const mayWait: ReadonlySet<string> = new Set(['entry', 'mention']);

function knownBy({ known }: WriteScope, values: readonly SqlValue[]): Map<string, string> {
  const certain = new Map<string, string>();
  for (const [column, terms] of known) {
    const [one, ...more] = termValues(terms, values);
    if (one !== undefined && more.length === 0) certain.set(column, one);
  }
  return certain;
}

function partOf({ table, finds }: RowsRead, bound: readonly SqlValue[]): Part {
  const found = new Map([...finds].map(([column, terms]) => [column, new Set(termValues(terms, bound))]));
  const columns = keyOf(table).filter((column) => found.has(column));
  let places: string[][] = [[]];
  for (const column of columns) {
    const values = [...(found.get(column) ?? [])];
    // A long list is no place to look at: each of its answers is compared.
    if (places.length * values.length > mostRows) return { table, finds: found, shelf: '', places: [''] };
    places = places.flatMap((place) => values.map((value) => [...place, value]));
  }
  return { table, finds: found, shelf: columns.join(), places: places.map((place) => place.join('\n')) };
}

function mayMatch({ finds }: Part, known: ReadonlyMap<string, string>): boolean {
  for (const [column, values] of finds) {
    const value = known.get(column);
    if (value !== undefined && !values.has(value)) return false;
  }
  return true;
}

/**
 * Keys of answers by table, by which of its key columns they compare, and by what with: so that a write looks at the few
 * answers about its own rows, and not at all of them.
 */
function keptByRows() {
  const tables = new Map<string, Map<string, Map<string, Set<string>>>>();
  return {
    clear: () => tables.clear(),
    add: ({ table, shelf, places }: Part, key: string): void => {
      const shelves = tables.get(table) ?? new Map<string, Map<string, Set<string>>>();
      tables.set(table, shelves);
      const all = shelves.get(shelf) ?? new Map<string, Set<string>>();
      shelves.set(shelf, all);
      for (const place of places) all.set(place, (all.get(place) ?? new Set()).add(key));
    },
    remove: ({ table, shelf, places }: Part, key: string): void => {
      for (const place of places) tables.get(table)?.get(shelf)?.get(place)?.delete(key);
    },
    found: (table: string, known: ReadonlyMap<string, string>): string[] =>
      [...(tables.get(table) ?? [])].flatMap(([shelf, all]) => {
        const place = (shelf === '' ? [] : shelf.split(',')).map((column) => known.get(column));
        return place.every((each) => each !== undefined)
          ? [...(all.get(place.join('\n')) ?? [])]
          : [...all.values()].flatMap((keys) => [...keys]);
      }),
  };
}

/** Texts stand in the source, but for those with a list of marks. */
function scopeOfText(text: string): StatementScope {
  const known = scopes.get(text);
  if (known) return known;
  if (scopes.size >= mostAnswers) scopes.clear();
  const scope = scopeOf(text);
  scopes.set(text, scope);
  return scope;
}
const scopes = new Map<string, StatementScope>();
