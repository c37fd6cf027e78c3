import { join } from 'node:path';
import type { Book } from '#libs/store/book.js';
import { packageRoot } from '#libs/package-root.js';
import { type Child, startChild } from '../support/child-process.js';
import { inFolder } from './bench.js';
import { backends, between, machineMs, spentMs } from './processor-time.js';
import { type Ask, measure, type Kinds, kindsAndMix, mixOf } from './reads.js';

/** Reads of one kind per second, and the processor time of each process while four were serving. */
export interface Shared {
  readonly kind: string;
  readonly one: number;
  readonly four: number;
  /** Milliseconds of processor time per read. */
  readonly server: number;
  readonly database: number;
  readonly client: number;
  /** Cores used by other programs meanwhile: if many, the measurement is mostly of them. */
  readonly others: number;
}

/**
 * Reads per second by one server process and by four together, in turn, the best of the rounds. Servers, database and
 * clients share the machine's cores, as they would on one small computer.
 */
export async function oneAndFour(book: Book, kinds: Kinds, rounds: number): Promise<Shared[]> {
  const { url } = book.location as { url: string };
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
          return Number(/:(\d+)$/.exec(await child.waitForLine(/^Boilbook \S+: http/))?.[1]);
        }),
      );
      // Each process compiles its code and each connection plans its statements first, which is not measured.
      for (const port of ports) await measure([port], mixOf(kinds, 150));
      const pids = children.map((child) => child.process.pid ?? 0);
      const measured: Shared[] = [];
      for (const [kind, asks] of kindsAndMix(kinds)) measured.push(await shared(book, kind, asks, ports, pids, rounds));
      return measured;
    } finally {
      for (const child of children) child.process.kill('SIGTERM');
      await Promise.all(children.map((child) => child.ended));
    }
  });
}

async function shared(
  book: Book,
  kind: string,
  asks: readonly Ask[],
  ports: readonly number[],
  servers: readonly number[],
  rounds: number,
): Promise<Shared> {
  const best = { one: 0, four: 0, server: 0, database: 0, client: 0, others: 0 };
  for (let round = 0; round < rounds; round++) {
    best.one = Math.max(best.one, rate(asks, await measure(ports.slice(0, 1), asks)));
    const pids = await backends(book);
    const before = [spentMs(servers), spentMs(pids), machineMs()] as const;
    const by = await measure(ports, asks);
    const spent = [spentMs(servers), spentMs(pids), machineMs()] as const;
    if (rate(asks, by) <= best.four) continue;
    best.four = rate(asks, by);
    const [server, database] = [between(before[0], spent[0]), between(before[1], spent[1])];
    best.server = server / asks.length;
    best.database = database / asks.length;
    best.client = by.processorMs / asks.length;
    best.others = Math.max(0, spent[2] - before[2] - server - database - by.processorMs) / by.milliseconds;
  }
  return { kind, ...best };
}

const rate = (asks: readonly Ask[], { milliseconds }: { milliseconds: number }): number =>
  asks.length / (milliseconds / 1000);
