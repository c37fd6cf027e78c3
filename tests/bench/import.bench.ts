import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { importRows } from '#libs/actions/import/import-rows.js';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { openBook } from '#libs/store/book.js';
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
  const best = { ours: Infinity, floor: Infinity };
  const byKind = new Map<string, number>();
  for (let round = 0; round < rounds; round++)
    await inFolder(async (folder) => {
      best.ours = Math.min(best.ours, await ours(join(folder, 'book.sqlite'), season, byKind));
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
      'what limits: each entry carries the verdict of the lots it affects, so each row is judged before the next (statements a row: a gathering 4, a boil 25, a pack 37, a dispatch 34)',
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
