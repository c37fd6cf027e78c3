import { get } from 'node:http';
import { join } from 'node:path';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { packsUnderway } from '#libs/actions/kinds/pack.js';
import { record } from '#libs/actions/record/record.js';
import { type Book, openBook } from '#libs/store/book.js';
import { packageRoot } from '#libs/package-root.js';
import { writeBigBook } from '../generator/big-book.js';
import { startChild } from '../support/child-process.js';
import { inFolder, type Measured } from './bench.js';

export const name = 'taps: readings entered at the bench while one link asks for 24 season PDFs, against 200 ms';

const limitMs = 200;

interface Bench {
  readonly address: string;
  readonly keys: Readonly<Record<'guest' | 'helper', string>>;
  readonly pack: string;
}

/**
 * The built server as a process of its own over a book of a season of 510 packs. Ten readings a second are sent by
 * their clock, whether or not the last was answered, so that a stall counts for every tap it would have kept waiting.
 * The ratio is the slowest of the 99th percentiles to what it may be.
 */
export async function run(): Promise<Measured> {
  return inFolder(async (folder) => {
    const file = join(folder, 'book.sqlite');
    const book = await openBook({ file });
    const { keys, pack } = await prepared(book);
    await book.close();
    const server = startChild('env', [
      `BOILBOOK_DATA=${folder}`,
      'BOILBOOK_PORT=0',
      process.execPath,
      join(packageRoot, 'dist/apps/server/main.js'),
    ]);
    try {
      const address = /(http:\S+)$/.exec(await server.said(/^Boilbook \S+: http/))?.[1] ?? '';
      const bench = { address, keys, pack };
      const resting = await tapsDuring(bench, () => new Promise((resolve) => setTimeout(resolve, 3000)));
      const documents = await tapsDuring(bench, () => askForDocuments(bench));
      return {
        ratio: documents.p99 / limitMs,
        goal: 1,
        lines: [
          `nothing else: ${line(resting)}`,
          `24 season PDFs of 510 packs asked for at once by one guest: ${line(documents)}; ${documents.answer}`,
        ],
      };
    } finally {
      server.process.kill('SIGTERM');
      await server.ended;
    }
  });
}

interface Taps<T> {
  readonly count: number;
  readonly p50: number;
  readonly p99: number;
  readonly most: number;
  readonly refused: number;
  readonly answer: T;
}

const line = ({ count, p50, p99, most, refused }: Taps<unknown>): string =>
  `${count} taps, median ${p50.toFixed(0)} ms, 99th percentile ${p99.toFixed(0)} ms, slowest ${most.toFixed(0)} ms, ${refused} not taken`;

async function tapsDuring<T>(bench: Bench, work: () => Promise<T>): Promise<Taps<T>> {
  const took: number[] = [];
  const sent: Promise<void>[] = [];
  let refused = 0;
  const tap = async (): Promise<void> => {
    const began = performance.now();
    const answer = await fetch(`${bench.address}/packs/${bench.pack}/fill`, {
      method: 'POST',
      redirect: 'manual',
      headers: { authorization: `Bearer ${bench.keys.helper}` },
      body: new URLSearchParams({ temperature: '186', 'temperature~unit': 'F' }),
    }).catch(() => undefined);
    took.push(performance.now() - began);
    if (answer?.status !== 303) refused++;
    await answer?.body?.cancel();
  };
  const clock = setInterval(() => sent.push(tap()), 100);
  const answer = await work().finally(() => clearInterval(clock));
  await Promise.all(sent);
  took.sort((a, b) => a - b);
  const at = (share: number): number => took[Math.min(took.length - 1, Math.floor(took.length * share))] ?? 0;
  return { count: took.length, p50: at(0.5), p99: at(0.99), most: at(1), refused, answer };
}

async function askForDocuments({ address, keys }: Bench): Promise<string> {
  const statuses = await Promise.all(
    Array.from({ length: 24 }, () => statusOf(`${address}/api/seasons/2006/summary.pdf`, keys.guest)),
  );
  const made = statuses.filter((status) => status === 200).length;
  return `${made} made, ${statuses.length - made} told to come again`;
}

/** By node:http, which waits as long as it takes: fetch gives up after five minutes without an answer. */
const statusOf = (url: string, key: string): Promise<number> =>
  new Promise((resolve, reject) => {
    const sent = get(url, { headers: { authorization: `Bearer ${key}` } }, (answer) => {
      answer.resume().once('end', () => resolve(answer.statusCode ?? 0));
    });
    sent.once('error', reject);
  });

async function prepared(book: Book): Promise<Pick<Bench, 'keys' | 'pack'>> {
  const now = new Date();
  await writeBigBook(book, 170);
  const made = await Promise.all(
    (['guest', 'helper'] as const).map(async (role) => {
      const key = await addKey(book, 'home', { name: role, role }, now);
      if ('problem' in key) throw new Error(JSON.stringify(key.problem));
      return [role, key.key] as const;
    }),
  );
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now, zone: 'America/New_York', clockIsRight: true };
  const begun = await record(book, context, packsUnderway, {
    fromLots: '06060J:1 fl oz',
    packedAt: new Date(now.getTime() - 600_000).toISOString(),
    container: 'glass jar 8 fl oz',
    by: 'OE',
  });
  if ('problem' in begun) throw new Error(JSON.stringify(begun.problem));
  return { keys: Object.fromEntries(made) as Bench['keys'], pack: begun.id };
}
