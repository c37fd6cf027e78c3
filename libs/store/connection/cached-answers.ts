import { indexTables } from '../projection/index-tables.js';

/** Tables with the parts of each that were read, or any part. */
export type PartsRead = Iterable<readonly [table: string, parts: readonly string[] | undefined]>;

/** Of one answer, and of all together; past it all are forgotten: a long file must not hold the whole book. */
const mostRowsOfOne = 5000;
const mostRows = 30_000;

/** Answers of one write transaction by the question, each with what of which tables it was read from. */
export function cachedAnswers() {
  const answers = new Map<string, readonly unknown[]>();
  // By table, then by the part of it. Some keys may be of answers already forgotten.
  const readers = new Map<string, Map<string, Set<string>>>();
  let rowsCached = 0;
  let writes = 0;
  const clear = (): void => {
    answers.clear();
    readers.clear();
    rowsCached = 0;
  };
  return {
    find: (key: string) => answers.get(key),
    /** How often anything was written. */
    writes: () => writes,
    keep: (key: string, rows: readonly unknown[], parts: PartsRead): void => {
      if (rows.length > mostRowsOfOne) return;
      if (rowsCached > mostRows) clear();
      rowsCached += rows.length + 1;
      for (const row of rows) Object.freeze(row);
      answers.set(key, rows);
      for (const [table, some] of parts) {
        const byPart = readers.get(table) ?? new Map<string, Set<string>>();
        readers.set(table, byPart);
        for (const part of some ?? [anyPart]) byPart.set(part, (byPart.get(part) ?? new Set()).add(key));
      }
    },
    /** After a write to these parts of a table, or to any. */
    forget: (table: string | undefined, parts?: readonly string[]): void => {
      writes++;
      if (table === undefined || !isTable(table)) return clear();
      const byPart = readers.get(table);
      if (!byPart) return;
      for (const part of parts ? [anyPart, ...parts] : [...byPart.keys()]) {
        for (const key of byPart.get(part) ?? []) {
          const rows = answers.get(key);
          if (rows) rowsCached -= rows.length + 1;
          answers.delete(key);
        }
        byPart.delete(part);
      }
    },
  };
}

/** No part is empty. */
const anyPart = '';

const logAndIndex: ReadonlySet<string> = new Set(['entry', 'record_head', ...indexTables.map(({ name }) => name)]);
/** A table of the book. A write to any other forgets everything. */
export const isTable = (word: string): boolean => logAndIndex.has(word) || word.startsWith('household_');

/** What a write knows of a statement from its text alone. */
interface KnownText {
  /** Short, and of no other text: answers are found by it. */
  readonly name: string;
  /**
   * The tables that it names: after FROM or JOIN, for a column may be called as a table is, and none stands after a
   * comma.
   */
  readonly tables: ReadonlySet<string>;
  readonly onlyReads: boolean;
  /** The table that it writes to, where it names one. */
  readonly written: string | undefined;
}

/** Worked out once for each text: texts stand in the source, but for those with a list of marks. */
export function knownText(text: string): KnownText {
  const known = texts.get(text);
  if (known) return known;
  if (texts.size >= mostTexts) texts.clear();
  const named = text.matchAll(/\b(?:FROM|JOIN|INTO|UPDATE)\s+(\w+)/g);
  const found: KnownText = {
    name: `asked ${textsNamed++}`,
    tables: new Set([...named].flatMap(([, name = '']) => (isTable(name) ? name : []))),
    onlyReads: /^\s*(?:SELECT|WITH)\b/.test(text) && !/\b(?:INSERT|UPDATE|DELETE)\b/.test(text),
    written: /^\s*(?:INSERT INTO|UPDATE|DELETE FROM) (\w+)/.exec(text)?.[1],
  };
  texts.set(text, found);
  return found;
}
const texts = new Map<string, KnownText>();
let textsNamed = 0;
const mostTexts = 4000;
