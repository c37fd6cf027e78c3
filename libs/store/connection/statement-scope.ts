import { indexTables } from '../projection/index-tables.js';
import type { SqlValue } from './sql.js';

/** What a column is compared with or set to: a value bound at a place from 0, one of several, or a literal of the text. */
type Term = { readonly place: number; readonly isList?: boolean } | { readonly literal: string };

/** Rows of one table that a query looks at: each has one of the values in each of these columns. */
export interface RowsRead {
  readonly table: string;
  readonly finds: ReadonlyMap<string, readonly Term[]>;
}

/** The rows that a query reads, its own and those of queries within it; undefined where they can be any. */
export interface ReadScope {
  readonly does: 'read';
  readonly parts: readonly RowsRead[] | undefined;
  readonly words: ReadonlySet<string>;
}

/** What a statement changes: rows of one table, with what is known of every one of them. */
export interface WriteScope {
  readonly does: 'write';
  readonly table: string;
  readonly known: ReadonlyMap<string, readonly Term[]>;
  /** The columns that an UPDATE sets; undefined where rows come or go. */
  readonly sets: readonly string[] | undefined;
}

export type StatementScope = ReadScope | WriteScope | { readonly does: 'other' };

/**
 * Which rows a statement reads or changes, as far as its text says for certain. Whatever is not understood is taken to be
 * wider than it is: a query of several tables may read any row of every table it names.
 */
export function scopeOf(text: string): StatementScope {
  const numbered = withPlaces(text);
  if (/^\s*(?:SELECT|WITH)\b/.test(numbered)) return readScope(numbered);
  return insertScope(numbered) ?? updateScope(numbered) ?? deleteScope(numbered) ?? { does: 'other' };
}

/** The values of a term, as text: keys are compared bytewise on both engines, and a count is a number. */
export function termValues(terms: readonly Term[], values: readonly SqlValue[]): string[] {
  return terms.flatMap((term) => {
    if ('literal' in term) return [term.literal];
    const value = values[term.place] as SqlValue | readonly SqlValue[] | undefined;
    return term.isList && Array.isArray(value) ? value.map(String) : [String(value)];
  });
}

/** Columns that no statement changes in a row that is there. */
export const keyOf = (table: string): readonly string[] => keys.get(table) ?? [];
const keys = new Map(indexTables.map(({ name, key }) => [name, key]));

/** Every bound value by its number, `?1`, however the engine writes it. */
function withPlaces(text: string): string {
  let n = 0;
  return text.replace(/'(?:[^']|'')*'|[?$](\d*)/g, (all, number: string | undefined) =>
    all.startsWith("'") ? all : `?${number ? number : ++n}`,
  );
}

const readScope = (text: string): ReadScope => ({
  does: 'read',
  parts: partsOf(text),
  words: new Set(text.match(/\w+|\*/g)),
});

function partsOf(query: string): RowsRead[] | undefined {
  const outside = masked(query);
  const tables = outside.match(/\b(?:FROM|JOIN|UNION|WITH)\b/g) ?? [];
  const from = /\bFROM (\w+)(?: \w+)?\s+WHERE\s/.exec(outside);
  if (tables.length !== 1 || from?.[1] === undefined) return undefined;
  const start = from.index + from[0].length;
  const end = outside.slice(start).search(/\b(?:ORDER BY|GROUP BY|LIMIT)\b/);
  const own = { table: from[1], finds: equalities(query.slice(start, end < 0 ? undefined : start + end)) };
  const within = queriesIn(query).map(partsOf);
  return within.includes(undefined) ? undefined : [own, ...within.flatMap((parts) => parts ?? [])];
}

/** The queries that stand in brackets within another. */
const queriesIn = (text: string): string[] =>
  bracketsIn(text).flatMap((inside) => (/^\s*SELECT\b/.test(inside) ? [inside] : queriesIn(inside)));

function bracketsIn(text: string): string[] {
  const outside = masked(text);
  return [...outside.matchAll(/\(/g)].map(({ index }) => text.slice(index + 1, outside.indexOf(')', index)));
}

function insertScope(text: string): WriteScope | undefined {
  const [start, table] = /^\s*INSERT INTO (\w+)\b\s*/.exec(text) ?? [];
  if (start === undefined || table === undefined) return undefined;
  const [, columns, rest] = /^\(([^()]*)\)\s*VALUES\s*(\([\s\S]*)$/.exec(text.slice(start.length)) ?? [];
  const close = rest === undefined ? -1 : masked(rest).indexOf(')');
  const after = rest?.slice(close + 1).trim() ?? '';
  const unknown = { does: 'write', table, known: new Map(), sets: undefined } as const;
  if (columns === undefined || rest === undefined || (after !== '' && !after.startsWith('ON CONFLICT'))) return unknown;
  const values = splitAt(rest.slice(1, close), /,/g);
  const known = new Map<string, readonly Term[]>();
  for (const [n, column] of splitAt(columns, /,/g).entries()) {
    const term = termIn(values[n] ?? '');
    // Of a row that was there already only the key is as it is written here.
    if (term && (after === '' || keyOf(table).includes(bare(column)))) known.set(bare(column), [term]);
  }
  return { ...unknown, known };
}

function updateScope(text: string): WriteScope | undefined {
  const [, table, set, where] = /^\s*UPDATE (\w+) SET\s([\s\S]*?)(?:\bWHERE\s([\s\S]*))?$/.exec(text) ?? [];
  if (table === undefined || set === undefined) return undefined;
  const sets = splitAt(set, /,/g).map((each) => bare(each.split('=')[0] ?? ''));
  return { does: 'write', table, known: ofTheKey(table, where, sets), sets };
}

function deleteScope(text: string): WriteScope | undefined {
  const [, table, where] = /^\s*DELETE FROM (\w+)(?:\s+WHERE\s([\s\S]*))?$/.exec(text) ?? [];
  return table === undefined ? undefined : { does: 'write', table, known: ofTheKey(table, where, []), sets: undefined };
}

/** Only what a key column is compared with holds before and after. */
function ofTheKey(table: string, where: string | undefined, sets: readonly string[]): WriteScope['known'] {
  const known = where === undefined ? [] : [...equalities(where)];
  return new Map(known.filter(([column]) => keyOf(table).includes(column) && !sets.includes(column)));
}

/** The columns that a condition compares with values, where all of it must hold. */
function equalities(where: string): Map<string, readonly Term[]> {
  const found = new Map<string, readonly Term[]>();
  if (/\bOR\b/.test(masked(where))) return found;
  for (const condition of splitAt(where, /\bAND\b/g)) {
    const [, column, value] = /^(?:\w+\.)?("?\w+"?) (?:= |IN \()([^()]*?)\)?$/.exec(condition) ?? [];
    const [, array, place] = /^(?:\w+\.)?("?\w+"?) = ANY\(\?(\d+)::text\[\]\)$/.exec(condition) ?? [];
    const terms = value === undefined ? [] : splitAt(value, /,/g).map(termIn);
    if (column !== undefined && terms.length > 0 && terms.every((term) => term !== undefined))
      found.set(bare(column), terms);
    else if (array !== undefined) found.set(bare(array), [{ place: Number(place) - 1, isList: true }]);
  }
  return found;
}

function termIn(text: string): Term | undefined {
  const place = /^\?(\d+)$/.exec(text)?.[1];
  if (place !== undefined) return { place: Number(place) - 1 };
  const literal = /^'([^']*)'$|^(\d+)$/.exec(text);
  return literal ? { literal: literal[1] ?? literal[2] ?? '' } : undefined;
}

const bare = (column: string): string => column.trim().replaceAll('"', '');

/** Parts of a text between separators that stand in no brackets and no quotes. */
function splitAt(text: string, separator: RegExp): string[] {
  const parts: string[] = [];
  let from = 0;
  for (const found of masked(text).matchAll(separator)) {
    parts.push(text.slice(from, found.index));
    from = found.index + found[0].length;
  }
  return [...parts, text.slice(from)].map((each) => each.trim());
}

/** The text with all that stands in brackets or quotes blanked out, its outermost brackets kept. */
function masked(text: string): string {
  let depth = 0;
  let inQuotes = false;
  return [...text]
    .map((letter) => {
      if (letter === "'") inQuotes = !inQuotes;
      else if (!inQuotes && letter === '(') return depth++ === 0 ? letter : '_';
      else if (!inQuotes && letter === ')') return --depth === 0 ? letter : '_';
      else if (!inQuotes && depth === 0) return letter;
      return '_';
    })
    .join('');
}
