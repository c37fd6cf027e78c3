import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { traceLot } from '#libs/actions/lots/trace-lot.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { type Engine, postgres, sqlite } from '../support/engines.js';
import { type TestServer, startServer } from '../support/server.js';
import { barePostgres } from './bare-postgres.js';
import { type Measured, milliseconds } from './bench.js';
import { type FirstReads, firstReads } from './first-reads.js';
import { oneAndFour, type Shared } from './four-processes.js';
import { measure, kindsAndMix, mixOf, writtenToRead } from './reads.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export const name =
  'postgres: scan and trace on PostgreSQL against the bare driver, four processes against one, SQLite beside them';

const goals = { scan: 1.5, trace: 1.5, four: 1.7 };
const boils = 100;

/**
 * Scans are whole pages over HTTP: ours from the server as it runs; the floor from node:http with four look-ups through
 * `pg`; and a leaner floor with our own statements. Traces are 200 in turn. One process and four serve reads of five
 * kinds and, for the goal, one of each kind in turn. PostgreSQL, servers and clients share the same cores, as they
 * would on one machine; the processor time of each per read is printed. The ratio is the worst of the three relative to
 * its own goal, so the goal is 1.
 */
export async function run(rounds = 3): Promise<Measured> {
  const [server, files] = [postgres(), sqlite()];
  await Promise.all([server.start(), files.start()]);
  try {
    const onPostgres = await onServer(server, rounds);
    const onSqlite = await onFiles(files);
    const mix = onPostgres.shared.at(-1)!;
    return {
      ratio: Math.max(onPostgres.scan / goals.scan, onPostgres.trace / goals.trace, goals.four / times(mix)),
      goal: 1,
      lines: [
        ...onPostgres.lines,
        ...onPostgres.shared.map((each) => sharedLine(each, onSqlite.get(each.kind) ?? 0)),
        `four times one, the mix: ${times(mix).toFixed(2)} (goal ${goals.four}); by processor time alone, cores kept busy, ${byProcessors(mix).toFixed(2)}`,
        'what limits: two cores that the database and the readers share; one process alone, its one thread',
      ],
    };
  } finally {
    await Promise.all([server.stop(), files.stop()]);
  }
}

async function onServer(engine: Engine, rounds: number) {
  const server = await startServer({}, { engine, requestsPerMinute: 1_000_000_000 });
  try {
    const { url } = server.book.location as { url: string };
    const { kinds, codes, session } = await writtenToRead(server.book, boils);
    const port = await listening(server);
    const scans = codes.map((code) => ({ path: `/J/${code}`, word: printedJarCode(code), carries: [] }));
    const bare = barePostgres(url);
    const page = await (await fetch(`http://127.0.0.1:${port}${scans[0]!.path}`)).text();
    const floors = [await bareServer(bare.scan, page), await bareServer(bare.leanScan, page)];
    const scan = await best(
      rounds,
      [port, ...floors.map((floor) => floor.port)].map((at) => async () => (await measure([at], scans)).milliseconds),
    );
    const variants = [
      (code: string) => traceLot(sugarhouseReader(server.book.read, 'home'), code, now),
      bare.trace,
      bare.leanTrace,
    ];
    const trace = await best(
      rounds,
      variants.map((way) => () => milliseconds(() => inTurn(codes.slice(0, 200), way))),
    );
    for (const floor of floors) await floor.close();
    await bare.close();
    const rate = (ms: number): string => perSecond(scans.length / (ms / 1000));
    const each = (ms: number): string => (ms / 200).toFixed(2);
    return {
      scan: scan[0] / scan[1],
      trace: trace[0] / trace[1],
      shared: await oneAndFour(server.book, kinds, rounds),
      lines: [
        firstReadsLine(await firstReads(server.book, session)),
        `scan ${rate(scan[0])} a second, bare ${rate(scan[1])}, ratio ${(scan[0] / scan[1]).toFixed(2)} (goal ${goals.scan}); bare with our two statements prepared ${rate(scan[2])}, ratio ${(scan[0] / scan[2]).toFixed(2)}`,
        `trace ${each(trace[0])} ms, bare ${each(trace[1])}, ratio ${(trace[0] / trace[1]).toFixed(2)} (goal ${goals.trace}); bare with our three statements prepared ${each(trace[2])}, ratio ${(trace[0] / trace[2]).toFixed(2)}`,
      ],
    };
  } finally {
    await server.close();
  }
}

/** The shortest time of each of three alternatives, run in turn, so that other load on the machine affects all. */
async function best(rounds: number, variants: readonly (() => Promise<number>)[]): Promise<[number, number, number]> {
  const least = variants.map(() => Infinity);
  for (let round = 0; round < rounds; round++)
    for (const [n, way] of variants.entries()) least[n] = Math.min(least[n]!, await way());
  return [least[0]!, least[1]!, least[2]!];
}

async function inTurn(codes: readonly string[], way: (code: string) => Promise<unknown>): Promise<void> {
  for (const code of codes) await way(code);
}

/** The same reads by one server over a file: how many per second of each kind. */
async function onFiles(engine: Engine): Promise<ReadonlyMap<string, number>> {
  const server = await startServer({}, { engine, requestsPerMinute: 1_000_000_000 });
  try {
    const { kinds } = await writtenToRead(server.book, boils);
    const port = await listening(server);
    await measure([port], mixOf(kinds, 80));
    const rates = new Map<string, number>();
    for (const [kind, asks] of kindsAndMix(kinds))
      rates.set(kind, asks.length / ((await measure([port], asks)).milliseconds / 1000));
    return rates;
  } finally {
    await server.close();
  }
}

const now = new Date('2030-01-01T00:00:00Z');
const listening = async ({ web }: TestServer): Promise<number> =>
  Number(new URL(await web.listen({ host: '127.0.0.1', port: 0 })).port);

const times = ({ one, four }: Shared): number => four / one;

/** How much faster two busy cores would be than one thread, if nothing else ran: the most that is possible. */
const byProcessors = ({ server, database, client }: Shared): number => (2 * server) / (server + database + client);

const firstReadsLine = ({ pages, ofPack, ofJar }: FirstReads): string =>
  `trace page read for the first time, ${pages} each, ms of the server: no page of its pack was drawn before ${ofPack.toFixed(2)}, another jar's was ${ofJar.toFixed(2)} (goal 1.2)`;

const sharedLine = ({ kind, one, four, server, database, client, others }: Shared, onSqlite: number): string =>
  `${kind}: four ${perSecond(four)}, one ${perSecond(one)} a second, ${(four / one).toFixed(2)} times; ms of processor a read: server ${server.toFixed(2)}, database ${database.toFixed(2)}, reader ${client.toFixed(2)}; others took ${others.toFixed(1)} cores; SQLite, one process: ${perSecond(onSqlite)} a second`;

async function bareServer(scan: (code: string) => Promise<void>, page: string) {
  const code = /[0-9A-Z]{4}-[0-9A-Z]{4}/.exec(page)?.[0] ?? '';
  const http = createServer((request, reply) => {
    const requested = (request.url ?? '').slice(3);
    scan(requested).then(
      () => {
        const body = Buffer.from(page.replaceAll(code, printedJarCode(requested)));
        reply.writeHead(200, { 'content-type': 'text/html; charset=utf-8', 'content-length': body.length }).end(body);
      },
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

const perSecond = (rate: number): string => Math.round(rate).toLocaleString('en');
