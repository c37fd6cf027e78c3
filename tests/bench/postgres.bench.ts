import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { addKey } from '#libs/actions/household-deeds.js';
import { record } from '#libs/actions/record.js';
import { houses } from '#libs/actions/set-up.js';
import { traceLot } from '#libs/actions/trace-lot.js';
import { packageRoot } from '#libs/records/package-root.js';
import { printedJarCode } from '#libs/syrup/jar-codes.js';
import { type Child, startChild } from '../child-process.js';
import { type Engine, postgres, sqlite } from '../engines.js';
import { writeBigBook } from '../generator/big-book.js';
import { type AServer, aServer } from '../server/a-server.js';
import { barePostgres } from './bare-postgres.js';
import { bestOf, inFolder, type Measured, milliseconds } from './bench.js';

export const name =
  'postgres: scan and trace on PostgreSQL against the bare driver, four processes against one, SQLite beside them';

const goals = { scan: 1.5, trace: 1.5, four: 1.7 };
const atOnce = 32;
const boils = 100;

/**
 * Scans are whole pages over HTTP, ours by the server as it runs, the floor by node:http with the same four look-ups.
 * Traces are 200 in turn. The processes answer traces under a key. PostgreSQL, servers and readers share the same
 * cores, as they would on one machine. The ratio is the worst of the three to its own goal, so the goal is 1.
 */
export async function run(rounds = 3): Promise<Measured> {
  const [server, files] = [postgres(), sqlite()];
  await Promise.all([server.start(), files.start()]);
  try {
    const onPostgres = await oneEngine(server, rounds);
    const onSqlite = await oneEngine(files, rounds);
    const four = onPostgres.reads.four / onPostgres.reads.one;
    return {
      ratio: Math.max(onPostgres.scan / goals.scan, onPostgres.trace / goals.trace, goals.four / four),
      goal: 1,
      lines: [
        ...onPostgres.lines,
        `four processes ${perSecond(onPostgres.reads.four)} traces, one ${perSecond(onPostgres.reads.one)}: ${four.toFixed(2)} times (goal ${goals.four})`,
        ...onSqlite.lines,
        'what limits: with PostgreSQL on the same cores, the cores; one process alone, its one thread',
      ],
    };
  } finally {
    await Promise.all([server.stop(), files.stop()]);
  }
}

async function oneEngine(engine: Engine, rounds: number) {
  const server = await aServer({}, { engine, visitsAMinute: 1_000_000_000 });
  try {
    const { keeping } = server.book;
    const { codes, key } = await written(server);
    const port = Number(new URL(await server.web.listen({ host: '127.0.0.1', port: 0 })).port);
    const scans = codes.map((code) => [`/J/${code}`, printedJarCode(code)] as const);
    const now = new Date('2030-01-01T00:00:00Z');
    const traces = async (): Promise<void> => {
      for (const code of codes.slice(0, 200)) await traceLot(server.book.read, 'home', code, now);
    };
    if (!('url' in keeping)) {
      await asked([port], scans);
      const page = await asked([port], scans);
      await traces();
      const each = (await milliseconds(traces)) / 200;
      return {
        scan: 0,
        trace: 0,
        reads: { one: 0, four: 0 },
        lines: [`SQLite: scan ${perSecond(scans.length / (page / 1000))} pages, trace ${each.toFixed(2)} ms`],
      };
    }
    const bare = barePostgres(keeping.url);
    const floor = await bareServer(bare.scan, await (await fetch(`http://127.0.0.1:${port}${scans[0]![0]}`)).text());
    const page = { ours: Infinity, floor: Infinity };
    for (let round = 0; round < rounds; round++) {
      page.ours = Math.min(page.ours, await asked([port], scans));
      page.floor = Math.min(page.floor, await asked([floor.port], scans));
    }
    const trace = await bestOf(rounds, traces, async () => {
      for (const code of codes.slice(0, 200)) await bare.trace(code);
    });
    await floor.close();
    await bare.close();
    const rate = (ms: number): string => perSecond(scans.length / (ms / 1000));
    return {
      scan: page.ours / page.floor,
      trace: trace.ours / trace.floor,
      reads: await processes(keeping.url, key, codes, rounds),
      lines: [
        `PostgreSQL: scan ${rate(page.ours)} pages, bare ${rate(page.floor)}, ratio ${(page.ours / page.floor).toFixed(2)} (goal ${goals.scan})`,
        `trace ${(trace.ours / 200).toFixed(2)} ms, bare ${(trace.floor / 200).toFixed(2)} ms, ratio ${(trace.ours / trace.floor).toFixed(2)} (goal ${goals.trace})`,
      ],
    };
  } finally {
    await server.close();
  }
}

async function written({ book }: AServer): Promise<{ codes: string[]; key: string }> {
  const desk = { sugarhouse: 'home', by: 'WE', author: 'WE', now: new Date('2006-01-01T12:00:00Z'), zone: 'UTC' };
  await record(book, desk, houses, { name: 'Tamarack Hollow Sugarhouse', town: 'Harrow Notch', place: 'Vermont' });
  const big = await writeBigBook(book, boils);
  const key = await addKey(book, 'home', { name: 'bench', role: 'guest' }, desk.now);
  if ('problem' in key) throw new Error('no key');
  return { codes: Array.from({ length: 2000 }, (_, n) => big.someJars[(n * 11) % big.someJars.length]!), key: key.key };
}

/** Reads a second by one server process, and by four of them together; in turn, the best of the rounds. */
async function processes(url: string, key: string, codes: readonly string[], rounds: number) {
  return inFolder(async (folder) => {
    const children: Child[] = [];
    try {
      const ports = await Promise.all(
        [0, 1, 2, 3].map(async (n) => {
          const child = startChild('env', [
            `BOILBOOK_DATA=${join(folder, String(n))}`,
            `BOILBOOK_DATABASE_URL=${url}`,
            'BOILBOOK_PORT=0',
            process.execPath,
            join(packageRoot, 'dist/apps/server/main.js'),
          ]);
          children.push(child);
          return Number(/:(\d+)$/.exec(await child.said(/^Boilbook \S+: http/))?.[1]);
        }),
      );
      const asks = codes.map((code) => [`/api/jars/${code}`, code] as const);
      // Each process compiles, and each of its connections plans, what it does often: not what is measured.
      for (const port of ports) await asked([port], asks, key);
      const best = { one: 0, four: 0 };
      for (let round = 0; round < rounds; round++) {
        best.one = Math.max(best.one, asks.length / ((await asked(ports.slice(0, 1), asks, key)) / 1000));
        best.four = Math.max(best.four, asks.length / ((await asked(ports, asks, key)) / 1000));
      }
      return best;
    } finally {
      for (const child of children) child.process.kill('SIGTERM');
      await Promise.all(children.map((child) => child.ended));
    }
  });
}

/** Milliseconds in which every one is answered. */
function asked(ports: readonly number[], asks: readonly (readonly [string, string])[], key?: string): Promise<number> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./read-client.js', import.meta.url), {
      workerData: { ports, asks, key, atOnce },
    });
    worker.once('message', (told: { milliseconds: number }) => resolve(told.milliseconds));
    worker.once('error', reject);
  });
}

async function bareServer(scan: (code: string) => Promise<void>, page: string) {
  const code = /[0-9A-Z]{4}-[0-9A-Z]{4}/.exec(page)?.[0] ?? '';
  const http = createServer((request, reply) => {
    const asked = (request.url ?? '').slice(3);
    scan(asked).then(
      () =>
        reply
          .writeHead(200, { 'content-type': 'text/html; charset=utf-8' })
          .end(page.replaceAll(code, printedJarCode(asked))),
      () => reply.writeHead(500).end(),
    );
  });
  await new Promise<void>((resolve) => http.listen(0, '127.0.0.1', resolve));
  return {
    port: (http.address() as AddressInfo).port,
    close: async () => {
      http.closeAllConnections();
      await new Promise((resolve) => http.close(resolve));
    },
  };
}

const perSecond = (rate: number): string => `${Math.round(rate).toLocaleString('en')} a second`;
