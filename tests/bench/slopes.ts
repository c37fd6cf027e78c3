import { join } from 'node:path';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { gatherings } from '#libs/actions/kinds/gathering.js';
import { record } from '#libs/actions/record/record.js';
import { traceLot } from '#libs/actions/lots/trace-lot.js';
import type { Book } from '#libs/store/book.js';
import { findJar, findLot } from '#libs/store/queries/lots.js';
import { packageRoot } from '#libs/package-root.js';
import { startChild } from '../support/child-process.js';
import { postgres } from '../support/engines.js';
import { writeBigBook } from '../generator/big-book.js';
import { inFolder, milliseconds } from './bench.js';
import { backends, between, spentMs } from './processor-time.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

// How a book on PostgreSQL grows: a line for each size, then the processor time of one scan and one trace, which a
// loaded machine changes less than the elapsed time. Not one of the benchmarks: it has no floor. node
// dist/tests/bench/slopes.js [boils …], 100 jars to a boil.
const sizes = process.argv.slice(2).map(Number);
const engine = postgres();
await engine.start();
try {
  for (const boils of sizes.length > 0 ? sizes : [100, 400, 1600]) {
    const book = await engine.freshBook();
    const big = await writeBigBook(book, boils, { atOnce: 100 });
    await book.read.statement('ANALYZE');
    console.log(await lineOf(book, big.jars, big.someJars, big.seconds));
    if (boils === (sizes.at(-1) ?? 1600)) console.log(await processorTime(book, big.someJars));
    await book.close();
  }
} finally {
  await engine.stop();
}

async function lineOf(book: Book, jars: number, codes: readonly string[], seconds: number): Promise<string> {
  const some = Array.from({ length: 300 }, (_, n) => codes[(n * 7) % codes.length]!);
  const look = async (): Promise<void> => {
    for (const code of some) {
      const jar = await findJar(book.read, code);
      if (jar) await findLot(sugarhouseReader(book.read, 'home'), jar.pack);
    }
  };
  const trace = async (): Promise<void> => {
    for (const code of some.slice(0, 100))
      await traceLot(sugarhouseReader(book.read, 'home'), code, new Date('2030-01-01T00:00:00Z'));
  };
  await look();
  await trace();
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: new Date('2030-01-01T00:00:00Z'), zone: 'UTC' };
  const write = async (): Promise<void> => {
    for (let n = 0; n < 100; n++)
      await record(book, context, gatherings, {
        id: `Z${n}`,
        gatheredAt: '2029-03-17T16:30',
        source: 'North slope, buckets',
        volume: '12 gal',
      });
  };
  const [{ bytes = 0 } = {}] = await book.read.statement<{ bytes: number }>(
    'SELECT pg_database_size(current_database()) AS bytes',
  );
  const [{ jar = 0 } = {}] = await book.read.statement<{ jar: number }>("SELECT pg_total_relation_size('jar') AS jar");
  const figures = [
    `${jars.toLocaleString('en')} jars`,
    `written at ${Math.round(jars / seconds).toLocaleString('en')} jars a second`,
    `${(Number(bytes) / 2 ** 20).toFixed(0)} MiB, of a jar ${Math.round(Number(jar) / jars)} bytes`,
    `jar and lot ${((await milliseconds(look)) / 300).toFixed(2)} ms`,
    `trace ${((await milliseconds(trace)) / 100).toFixed(2)} ms`,
    `a small write ${((await milliseconds(write)) / 100).toFixed(1)} ms`,
  ];
  return figures.join('; ');
}

/** Processor time of one server process and of the database, for a public page and for a trace with a key. */
function processorTime(book: Book, codes: readonly string[]): Promise<string> {
  return inFolder(async (folder) => {
    const { url } = book.location as { url: string };
    const key = await addKey(book, 'home', { name: 'slopes', role: 'guest' }, new Date());
    if ('problem' in key) throw new Error('no key');
    const child = startChild('env', [
      `BOILBOOK_DATA=${join(folder, 'data')}`,
      `BOILBOOK_DATABASE_URL=${url}`,
      'BOILBOOK_PORT=0',
      process.execPath,
      join(packageRoot, 'dist/apps/server/main.js'),
    ]);
    const address = /http:\S+/.exec(await child.waitForLine(/^Boilbook \S+: http/))?.[0] ?? '';
    const figures: string[] = [];
    for (const path of ['/J', '/api/jars']) {
      const ask = async (times: number): Promise<void> => {
        const clients = Array.from({ length: 8 }, async (_, client) => {
          for (let n = client; n < times; n += 8) {
            const answer = await fetch(`${address}${path}/${codes[n % codes.length]}`, {
              headers: { authorization: `Bearer ${key.key}` },
            });
            if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
            await answer.text();
          }
        });
        await Promise.all(clients);
      };
      await ask(1500);
      const processes = [[child.process.pid ?? 0], await backends(book)] as const;
      const before = processes.map(spentMs);
      await ask(3000);
      const [server = 0, database = 0] = processes.map((pids, n) => between(before[n]!, spentMs(pids)) / 3000);
      figures.push(`${path}: server ${server.toFixed(2)} ms, database ${database.toFixed(2)} ms of processor time`);
    }
    child.process.kill('SIGTERM');
    await child.ended;
    return figures.join('; ');
  });
}
