import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { houses } from '#libs/actions/kinds/house.js';
import { record } from '#libs/actions/record/record.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { writeBigBook } from '../generator/big-book.js';
import { type TestServer, startServer } from '../support/server.js';
import { openBare } from './bare-sqlite.js';
import type { Measured } from './bench.js';
import { measure, readersAtOnce } from './reads.js';

export const name = 'scan: the public page of a jar over HTTP, against bare node:http with the same look-ups and bytes';

const goal = 3;
const scans = 3000;

/**
 * Ours is the whole server as it runs: rate limit, headers, request id, guard, the jar, its lot and verdict, the house
 * and its pack's record, and the page rendered anew, for a recall must be seen at once. The floor is node:http with
 * four prepared statements of the bare driver and a page of the same length with the code put in. The clients run in a
 * thread of their own.
 */
export async function run(rounds = 3): Promise<Measured> {
  const server = await startServer({}, { requestsPerMinute: 1_000_000_000 });
  const bare = await bareServer(server);
  try {
    const context = {
      sugarhouse: 'home',
      by: 'WE',
      author: 'WE',
      now: new Date('2026-03-01T12:00:00Z'),
      zone: 'America/New_York',
    };
    await record(server.book, { ...context, now: new Date('2006-01-01T12:00:00Z') }, houses, {
      name: 'Tamarack Hollow Sugarhouse',
      town: 'Harrow Notch, Vermont',
      postcode: '05000',
      place: 'Vermont',
      hydrometerMadeFor: '60-F',
      zone: 'America/New_York',
    });
    const big = await writeBigBook(server.book, 100);
    const codes = Array.from({ length: scans }, (_, n) => big.someJars[(n * 11) % big.someJars.length]!);
    const port = Number(new URL(await server.web.listen({ host: '127.0.0.1', port: 0 })).port);
    const page = await (await fetch(`http://127.0.0.1:${port}/J/${codes[0]}`)).text();
    bare.page = page.replaceAll(printedJarCode(codes[0]!), '####-####');
    await bare.prepare();
    const best = { ours: Infinity, floor: Infinity };
    for (let round = 0; round < rounds; round++) {
      best.ours = Math.min(best.ours, await scanned(port, codes));
      best.floor = Math.min(best.floor, await scanned(bare.port, codes));
    }
    const each = (milliseconds: number): string =>
      `${Math.round(scans / (milliseconds / 1000)).toLocaleString('en')} pages/s`;
    return {
      ratio: best.ours / best.floor,
      goal,
      lines: [
        `${big.jars.toLocaleString('en')} jars, ${readersAtOnce} at once, ${page.length} letters a page: ours ${each(best.ours)}, bare ${each(best.floor)}`,
        'what limits: one thread, which spends as long on sockets as on the look-ups; the page itself is a few per cent',
      ],
    };
  } finally {
    await bare.close();
    await server.close();
  }
}

/** Milliseconds. Checks that it is the page of this jar, since a fast wrong answer is worth nothing. */
async function scanned(port: number, codes: readonly string[]): Promise<number> {
  const scan = (code: string) => ({ path: `/J/${code}`, word: printedJarCode(code), carries: [] });
  return (await measure([port], codes.map(scan))).milliseconds;
}

async function bareServer(server: TestServer) {
  const location = server.book.location as { file: string };
  const database = await openBare(location.file);
  let answer: (code: string) => Promise<string> = async () => '';
  const http = createServer((request, reply) => {
    answer((request.url ?? '').slice(3)).then(
      (page) => {
        const body = Buffer.from(page);
        reply.writeHead(200, { 'content-type': 'text/html; charset=utf-8', 'content-length': body.length }).end(body);
      },
      () => reply.writeHead(500).end(),
    );
  });
  await new Promise<void>((resolve) => http.listen(0, '127.0.0.1', resolve));
  const own = {
    page: '',
    port: (http.address() as AddressInfo).port,
    prepare: async () => {
      const jar = database.prepare('SELECT * FROM jar WHERE code = ?');
      const lot = database.prepare("SELECT * FROM lot WHERE sugarhouse = 'home' AND code = ?");
      const saved = database.prepare("SELECT * FROM record WHERE sugarhouse = 'home' AND kind = ? AND id = ?");
      answer = async (code) => {
        const found = await jar.get<{ pack: string }>(code);
        await lot.get(found?.pack);
        await saved.get('pack', found?.pack);
        await saved.get('house', 'house');
        return own.page.replaceAll('####-####', printedJarCode(code));
      };
    },
    close: async () => {
      http.closeAllConnections();
      await new Promise((resolve) => http.close(resolve));
      await database.close();
    },
  };
  return own;
}
