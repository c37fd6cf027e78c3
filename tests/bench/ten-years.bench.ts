import { dispatches } from '#libs/actions/kinds/dispatch.js';
import { record } from '#libs/actions/record/record.js';
import { voidRecord } from '#libs/actions/record/void-record.js';
import type { Book } from '#libs/store/book.js';
import { type Engine, postgres, sqlite } from '../support/engines.js';
import { startServer, type TestServer } from '../support/server.js';
import type { Measured } from './bench.js';
import { readable } from './reads.js';

export const name =
  'ten-years: pages of a book of 210,000 jars and 6,300 packs, in ms of server time, on both engines, also the first read after a start and after each kind of write';

const goalMs = 100;
const boils = Number(process.env['BOILBOOK_BENCH_BOILS'] ?? 2100);

/**
 * The ratio is of the slowest page to 100 ms: warm, or after a write, a correction or a void. Each page is requested
 * alone, without other readers, and measured in processor time of the server, since other work on the machine lengthens
 * elapsed time.
 */
export async function run(rounds = 7): Promise<Measured> {
  const lines: string[] = [];
  let worst = 0;
  for (const engine of [sqlite(), postgres()]) {
    await engine.start();
    try {
      for (const each of await onEngine(engine, rounds)) {
        worst = Math.max(worst, each.ms, ...each.after.map(([, ms]) => ms));
        const after = each.after.map(([what, ms]) => `after a ${what} ${ms.toFixed(0)}`).join(', ');
        lines.push(
          `${engine.name}, ${each.page}: ${each.ms.toFixed(0)} ms, first of the process ${each.firstMs.toFixed(0)}, ${after}, ${each.statements} statements, ${Math.round(each.bytes / 1024)} KB`,
        );
      }
    } finally {
      await engine.stop();
    }
  }
  return { ratio: worst / goalMs, goal: 1, lines };
}

async function onEngine(engine: Engine, rounds: number) {
  const server = await startServer({}, { engine, requestsPerMinute: 1_000_000_000 });
  try {
    const { session, book } = await readable(server.book, boils, { aSeason: 210 });
    server.clock.now = new Date('2015-04-20T12:00:00Z');
    const count = counted(server.book);
    const pages: readonly (readonly [string, string])[] = [
      ['season', '/season/2015'],
      ['pictures', '/season/2015/pictures'],
      ['Today', '/'],
      ['packs', '/packs'],
      ['a boil’s page', `/lots/${book.lastBoil}`],
      ['a boil’s trace', `/lots/${book.lastBoil}/trace`],
      ['trace of the boil that a tenth has some of', `/lots/${book.wideBoil}/trace`],
      ['a jar’s trace', `/jars/${book.someJars.at(-1)}`],
    ];
    const found = [];
    for (const [page, path] of pages) {
      let ms = Infinity;
      let firstMs = 0;
      let bytes = 0;
      let statements = 0;
      for (let round = 0; round < rounds; round++) {
        const before = count();
        const { answer, took } = await spent(() => get(server, path, session));
        if (round === 0) [firstMs, statements] = [took, count() - before];
        ms = Math.min(ms, took);
        bytes = answer.length;
      }
      const after = await afterWrites(server, `${book.lastBoil}-2`, () => get(server, path, session));
      found.push({ page, ms, firstMs, after, bytes, statements });
    }
    return found;
  } finally {
    await server.close();
  }
}

/** The first read after a dispatch was written, corrected and voided: the least of three times. */
async function afterWrites(server: TestServer, lot: string, read: () => Promise<unknown>): Promise<[string, number][]> {
  const context = () => {
    server.clock.now = new Date(server.clock.now.getTime() + 61_000);
    const now = server.clock.now;
    return { sugarhouse: 'home', by: 'WE', author: 'WE', now, zone: 'UTC', clockIsRight: true };
  };
  const least = new Map<string, number>();
  for (let n = 0; n < 3; n++) {
    const id = `X${server.clock.now.getTime()}`;
    const sent = (jars: string) => ({ id, lot, jars, sentAt: '2015-04-19T12:00', to: 'Millrace Green', by: 'WE' });
    const correction = { of: id, why: 'counted again' };
    const writes: readonly (readonly [string, () => Promise<object>])[] = [
      ['write', () => record(server.book, context(), dispatches, sent('1'))],
      ['correction', () => record(server.book, context(), dispatches, sent('2'), correction)],
      ['void', () => voidRecord(server.book, context(), 'dispatch', id, 'not ours')],
    ];
    for (const [what, write] of writes) {
      const done = await write();
      if ('problem' in done) throw new Error(JSON.stringify(done.problem));
      const { took } = await spent(read);
      least.set(what, Math.min(took, least.get(what) ?? Infinity));
    }
  }
  return [...least];
}

/** Processor time in ms of this process. */
async function spent<T>(work: () => Promise<T>): Promise<{ answer: T; took: number }> {
  const before = process.cpuUsage();
  const answer = await work();
  const { user, system } = process.cpuUsage(before);
  return { answer, took: (user + system) / 1000 };
}

async function get({ web }: TestServer, url: string, session: readonly string[]): Promise<Buffer> {
  const [, cookie = ''] = session[0]?.split(': ') ?? [];
  const answer = await web.inject({ url, headers: { cookie } });
  if (answer.statusCode !== 200) throw new Error(`${url}: ${answer.statusCode} ${answer.body.slice(0, 300)}`);
  return answer.rawPayload;
}

/** Counts the statements of the book's shared reader. */
function counted(book: Book): () => number {
  let statements = 0;
  const read = book.read as {
    statement: Book['read']['statement'];
    rows: Book['read']['rows'];
    row: Book['read']['row'];
  };
  for (const name of ['statement', 'rows', 'row'] as const) {
    const plain = read[name] as (...args: never[]) => Promise<never>;
    read[name] = (...args: never[]) => {
      statements++;
      return plain(...args);
    };
  }
  return () => statements;
}
