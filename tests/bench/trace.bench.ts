import { join } from 'node:path';
import { jarsDownstream } from '#libs/actions/jars/jars-downstream.js';
import { traceLot } from '#libs/actions/lots/trace-lot.js';
import { type Book, openBook } from '#libs/store/book.js';
import { writeBigBook } from '../generator/big-book.js';
import { openBare } from './bare-sqlite.js';
import { bestOf, inFolder, type Measured } from './bench.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export const name = 'trace: a jar to its boils, its sap and its sisters, against the same questions in prepared SQL';

const goals = { up: 2, down: 1.5 };

/**
 * Two traces: up from 200 jars, one after the other, and down to every jar from a boil that is in a tenth of the book.
 * The floor reads the same rows with the same driver, in as few prepared statements as we know of, and does nothing
 * with them. `BOILBOOK_BENCH_JARS` sets the size of the larger of the two books, 100,000 by default.
 */
export async function run(): Promise<Measured> {
  const most = Number(process.env['BOILBOOK_BENCH_JARS'] ?? 100_000);
  const lines: string[] = [];
  let largest = { up: 0, down: 0 };
  for (const jars of [...new Set([10_000, most])]) {
    const sized = await inFolder((folder) => oneSize(join(folder, 'book.sqlite'), jars));
    lines.push(...sized.lines);
    largest = sized;
  }
  // One ratio for both goals, in the larger book: that of the goal which is missed by more.
  const ratio = Math.max(largest.up, (largest.down * goals.up) / goals.down);
  return {
    ratio,
    goal: goals.up,
    lines: [
      ...lines,
      `goals: up ${goals.up}, down ${goals.down}; the ratio is that of the larger book, down scaled to up’s goal where it is the worse`,
    ],
  };
}

async function oneSize(file: string, jars: number) {
  const book = await openBook({ file });
  const big = await writeBigBook(book, Math.ceil(jars / 100));
  const codes = Array.from({ length: 200 }, (_, n) => big.someJars[(n * 7) % big.someJars.length]!);
  const bare = await bareTrace(file);
  const now = new Date('2030-01-01T00:00:00Z');
  const up = await bestOf(
    15,
    async () => {
      for (const code of codes) await traceLot(sugarhouseReader(book.read, 'home'), code, now);
    },
    async () => {
      for (const code of codes) await bare.up(code);
    },
  );
  const heap = process.memoryUsage().heapUsed;
  const below = { ours: 0, floor: 0 };
  const down = await bestOf(
    9,
    async () => (below.ours = await everyJar(book, big.wideBoil, now)),
    async () => (below.floor = await bare.down(big.wideBoil)),
  );
  if (below.ours !== below.floor) throw new Error(`${below.ours} jars are below by ours, ${below.floor} by the floor`);
  await bare.close();
  await book.close();
  const each = (of: number): string => `${(of / codes.length).toFixed(3)} ms`;
  return {
    up: up.ours / up.floor,
    down: down.ours / down.floor,
    lines: [
      `${big.jars.toLocaleString('en')} jars (written in ${big.seconds.toFixed(1)} s): up from a jar ${each(up.ours)}, bare ${each(up.floor)}, ratio ${(up.ours / up.floor).toFixed(2)}`,
      `down to ${below.ours.toLocaleString('en')} jars ${down.ours.toFixed(0)} ms, bare ${down.floor.toFixed(0)} ms, ratio ${(down.ours / down.floor).toFixed(2)}; heap grew ${((process.memoryUsage().heapUsed - heap) / 2 ** 20).toFixed(0)} MiB`,
    ],
  };
}

/** The trace of the boil, then every jar below it with where it went, streamed. */
async function everyJar(book: Book, boil: string, now: Date): Promise<number> {
  const trace = await traceLot(sugarhouseReader(book.read, 'home'), boil, now);
  if ('problem' in trace) throw new Error(`${boil} is not in the book`);
  let jars = 0;
  for await (const jar of jarsDownstream(
    sugarhouseReader(book.read, 'home'),
    trace.packs.map((pack) => pack.lot),
  ))
    jars += jar.n > 0 ? 1 : 0;
  return jars;
}

async function bareTrace(file: string) {
  const bare = await openBare(file);
  const upward = `WITH RECURSIVE above(code) AS (SELECT ?1 UNION SELECT flow.from_lot FROM above CROSS JOIN flow
    WHERE flow.sugarhouse = 'home' AND flow.into_lot = above.code)
    SELECT lot.* FROM above CROSS JOIN lot WHERE lot.sugarhouse = 'home' AND lot.code = above.code`;
  const downward = `WITH RECURSIVE below(code) AS (SELECT ?1 UNION SELECT flow.into_lot FROM below CROSS JOIN flow
    WHERE flow.sugarhouse = 'home' AND flow.from_lot = below.code)`;
  const jar = bare.prepare('SELECT * FROM jar WHERE code = ?');
  const lot = bare.prepare("SELECT * FROM lot WHERE sugarhouse = 'home' AND code = ?");
  const above = bare.prepare(upward);
  const moved = bare.prepare("SELECT * FROM movement WHERE sugarhouse = 'home' AND lot = ? ORDER BY sent_utc, id");
  const named = bare.prepare(`SELECT movement_jar.* FROM movement JOIN movement_jar
    ON movement_jar.sugarhouse = 'home' AND movement_jar.movement = movement.id WHERE movement.sugarhouse = 'home' AND movement.lot = ?`);
  const counted = bare.prepare("SELECT * FROM shelf_count WHERE sugarhouse = 'home' AND lot = ? ORDER BY counted_utc");
  const poured = bare.prepare("SELECT * FROM flow WHERE sugarhouse = 'home' AND from_lot = ?");
  const belowLots = bare.prepare(
    `${downward} SELECT lot.* FROM below CROSS JOIN lot WHERE lot.sugarhouse = 'home' AND lot.code = below.code`,
  );
  const of = (table: string, column: string): string =>
    `${downward} SELECT ${table}.* FROM below CROSS JOIN ${table} WHERE ${table}.sugarhouse = 'home' AND ${table}.${column} = below.code`;
  const belowMoved = bare.prepare(of('movement', 'lot'));
  const belowNamed =
    bare.prepare(`${downward} SELECT movement_jar.* FROM below CROSS JOIN movement CROSS JOIN movement_jar
    WHERE movement.sugarhouse = 'home' AND movement.lot = below.code AND movement_jar.sugarhouse = 'home' AND movement_jar.movement = movement.id`);
  const belowCounted = bare.prepare(of('shelf_count', 'lot'));
  const belowJars = bare.prepare(of('jar', 'pack'));
  return {
    up: async (code: string): Promise<void> => {
      const found = await jar.get<{ pack: string }>(code);
      const pack = found?.pack ?? '';
      await lot.get(pack);
      await above.all(pack);
      for (const statement of [moved, named, counted, poured]) await statement.all(pack);
    },
    down: async (boil: string): Promise<number> => {
      await lot.get(boil);
      await above.all(boil);
      for (const statement of [belowLots, belowMoved, belowNamed, belowCounted]) await statement.all(boil);
      return (await belowJars.all(boil)).length;
    },
    close: bare.close,
  };
}
