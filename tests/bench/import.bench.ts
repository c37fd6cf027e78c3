import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { importRows } from '#libs/actions/import/import-rows.js';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { type Book, openBook } from '#libs/store/book.js';
import { canonicalJson } from '#libs/store/log/canonical.js';
import { walkLog } from '#libs/store/log/log.js';
import { growFrontier, leafHash } from '#libs/store/log/merkle.js';
import { columnNames, createIndex, indexTables } from '#libs/store/projection/index-tables.js';
import type { Invented } from '../generator/invented.js';
import { inventSeason } from '../generator/invent-season.js';
import { openBare } from './bare-sqlite.js';
import { inFolder, type Measured, milliseconds } from './bench.js';

export const name = 'import: a season of seven files, against csv-parse and bare inserts of the same cells';

/**
 * The floor reads the same files with the same parser and inserts each row, as text, into one table per kind with one
 * key, in one transaction per file: nothing is parsed further, judged, hashed or traced, and no jar gets a code. Our
 * import parses and looks up each row, judges it by every rule with everything upstream, and writes it to a log and up
 * to eight tables.
 */
export async function run(rounds = 3): Promise<Measured> {
  const season = inventSeason(11, 150);
  const rows = season.files.reduce((sum, file) => sum + file.rows, 0);
  const jars = season.totals.jarsMade;
  const best = { ours: Infinity, floor: Infinity, needed: Infinity };
  const byKind = new Map<string, number>();
  for (let round = 0; round < rounds; round++)
    await inFolder(async (folder) => {
      const file = join(folder, 'book.sqlite');
      best.ours = Math.min(best.ours, await ours(file, season, byKind));
      best.needed = Math.min(best.needed, await needed(file, join(folder, 'needed.sqlite')));
      best.floor = Math.min(best.floor, await floor(join(folder, 'bare.sqlite'), season));
    });
  const each = season.files
    .map((file) => `${file.kind} ${((byKind.get(file.kind) ?? 0) / file.rows).toFixed(2)}`)
    .join(', ');
  return {
    ratio: best.ours / best.floor,
    goal: 20,
    lines: [
      `${rows} rows, ${jars.toLocaleString('en')} jars: ${best.ours.toFixed(0)} ms, ${(best.ours / rows).toFixed(2)} ms a row (goal under 10); bare ${best.floor.toFixed(0)} ms`,
      `ms a row: ${each}`,
      `what the book holds at its end, made canonical, hashed and inserted 200 rows at a time, nothing read or judged: ${best.needed.toFixed(0)} ms, ${(best.needed / best.floor).toFixed(1)} times the floor`,
      'what limits: each entry carries the verdict of the lots it affects, so each row is judged before the next (statements a row, those of the copy included: a boil 2, a pack 1.5, a dispatch 0.8)',
    ],
  };
}

async function ours(file: string, season: Invented, byKind: Map<string, number>): Promise<number> {
  const book = await openBook({ file });
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: season.now, zone: 'America/New_York' };
  let sum = 0;
  for (const { kind, text } of season.files) {
    const took = await milliseconds(async () => {
      const answer = await importRows(
        book,
        context,
        importKinds.find((each) => each.plural === kind)!,
        Buffer.from(text),
      );
      if (answer.faults.length + answer.refusals.length > 0)
        throw new Error(JSON.stringify([answer.faults, answer.refusals]));
    });
    byKind.set(kind, Math.min(byKind.get(kind) ?? Infinity, took));
    sum += took;
  }
  await book.close();
  return sum;
}

/** The entries and index rows of a finished book, written again by the bare driver in one transaction. */
async function needed(from: string, to: string): Promise<number> {
  const book: Book = await openBook({ file: from });
  const entries: unknown[] = [];
  for await (const { json } of walkLog(book.read)) entries.push(JSON.parse(json));
  const tables = await Promise.all(
    indexTables.map(async (table) => ({ table, rows: await book.read.statement(`SELECT * FROM ${table.name}`) })),
  );
  await book.close();
  const bare = await openBare(to);
  await bare.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL');
  await bare.exec(`${createIndex('sqlite').join('; ')}; CREATE TABLE entry (json TEXT, leaf TEXT)`);
  const insert = async (name: string, columns: readonly string[], rows: readonly unknown[][]): Promise<void> => {
    const placeholders = `(${columns.map(() => '?').join(', ')})`;
    for (let first = 0; first < rows.length; first += 200) {
      const some = rows.slice(first, first + 200);
      const statement = bare.prepare(
        `INSERT INTO ${name} (${columns.join(', ')}) VALUES ${some.map(() => placeholders).join(', ')}`,
      );
      await statement.run(...some.flat());
    }
  };
  const took = await milliseconds(async () => {
    await bare.exec('BEGIN');
    let frontier: readonly string[] = [];
    const lines = entries.map((entry, count) => {
      const json = canonicalJson(entry);
      const leaf = leafHash(json);
      frontier = growFrontier(frontier, count, leaf);
      return [json, leaf];
    });
    await insert('entry', ['json', 'leaf'], lines);
    for (const { table, rows } of tables) await insert(table.name, columnNames(table), rows.map(Object.values));
    await bare.exec('COMMIT');
  });
  await bare.close();
  return took;
}

async function floor(file: string, season: Invented): Promise<number> {
  const bare = await openBare(file);
  await bare.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL');
  const took = await milliseconds(async () => {
    for (const { kind, text } of season.files) {
      const delimiter = (text.split('\n', 1)[0] ?? '').includes(';') ? ';' : ',';
      const [header = [], ...rows] = parse(text, { delimiter, bom: true });
      await bare.exec(
        `CREATE TABLE ${kind} (n INTEGER PRIMARY KEY, ${header.map((column) => `"${column}" TEXT`).join(', ')})`,
      );
      const insert = bare.prepare(`INSERT INTO ${kind} VALUES (NULL, ${header.map(() => '?').join(', ')})`);
      await bare.exec('BEGIN');
      for (const row of rows) await insert.run(...row);
      await bare.exec('COMMIT');
    }
  });
  await bare.close();
  return took;
}
