import { writeFileSync } from 'node:fs';
import { get, request } from 'node:http';
import { join } from 'node:path';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { packsUnderway } from '#libs/actions/kinds/pack.js';
import { record } from '#libs/actions/record/record.js';
import { type Book, openBook } from '#libs/store/book.js';
import { packageRoot } from '#libs/package-root.js';
import { writeBigBook } from '../generator/big-book.js';
import { letter } from '../generator/invented.js';
import { startChild } from '../support/child-process.js';
import { inFolder, type Measured } from './bench.js';

export const name =
  'taps: readings entered at the bench beside 24 season PDFs and long imports, against 200 ms and 500 ms';

const limitMs = 200;
/** During an import, by its number of rows. */
const importLimits = [
  { rows: 5000, ms: 500 },
  { rows: 30_000, ms: 2000 },
] as const;

interface Bench {
  readonly address: string;
  readonly keys: Readonly<Record<'guest' | 'helper' | 'owner', string>>;
  /** Every sixty taps go to another pack, since no pack has thousands of readings. */
  readonly packs: readonly string[];
}

/**
 * The built server as a process of its own with a book of 510 packs. Ten readings per second are sent on schedule,
 * whether or not the last was answered, so that a stall counts for every tap that it delays. The ratio is the slowest
 * 99th percentile to its limit.
 */
export async function run(): Promise<Measured> {
  return inFolder(async (folder) => {
    const file = join(folder, 'book.sqlite');
    const book = await openBook({ file });
    const { keys, packs } = await prepared(book);
    await book.close();
    const server = startChild('env', [
      `BOILBOOK_DATA=${folder}`,
      'BOILBOOK_PORT=0',
      process.execPath,
      join(packageRoot, 'dist/apps/server/main.js'),
    ]);
    try {
      const address = /(http:\S+)$/.exec(await server.waitForLine(/^Boilbook \S+: http/))?.[1] ?? '';
      const bench = { address, keys, packs };
      const resting = await tapsDuring(bench, () => new Promise((resolve) => setTimeout(resolve, 3000)));
      const documents = await tapsDuring(bench, () => askForDocuments(bench));
      const lines = [
        `nothing else: ${line(resting)}`,
        `24 season PDFs of 510 packs asked for at once by one guest: ${line(documents)}; ${documents.answer}`,
      ];
      let worst = documents.p99 / limitMs;
      for (const { rows, ms } of importLimits)
        for (const [way, send] of [
          ['by the API', importByApi],
          ['by the command', (_: Bench, text: string) => importByCommand(folder, text)],
        ] as const) {
          const during = await tapsDuring(bench, () => send(bench, gatherings(rows, way)));
          worst = Math.max(worst, during.most / ms, during.refused);
          lines.push(`import of ${rows} rows ${way}: ${line(during)} (goal ${ms}); ${during.answer}`);
        }
      return { ratio: worst, goal: 1, lines };
    } finally {
      server.process.kill('SIGTERM');
      await server.ended;
    }
  });
}

let tapped = 0;

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
    const answer = await fetch(
      `${bench.address}/packs/${bench.packs[Math.floor(tapped++ / 60) % bench.packs.length]}/fill`,
      {
        method: 'POST',
        redirect: 'manual',
        headers: { authorization: `Bearer ${bench.keys.helper}` },
        body: new URLSearchParams({ temperature: '186', 'temperature~unit': 'F' }),
      },
    ).catch(() => undefined);
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
  return `${made} made, ${statuses.length - made} asked to try again`;
}

/** By node:http, which waits without a limit: fetch gives up after five minutes without a response. */
const statusOf = (url: string, key: string): Promise<number> =>
  new Promise((resolve, reject) => {
    const sent = get(url, { headers: { authorization: `Bearer ${key}` } }, (answer) => {
      answer.resume().once('end', () => resolve(answer.statusCode ?? 0));
    });
    sent.once('error', reject);
  });

const gatherings = (rows: number, way: string): string =>
  [
    'id,gathered_at,source,volume,by',
    ...Array.from(
      { length: rows },
      (_, n) => `${way.slice(-3).toUpperCase()}${rows}-${n},2006-03-17T16:00,upper lines,12 gal,JP`,
    ),
  ].join('\n');

async function importByApi({ address, keys }: Bench, text: string): Promise<string> {
  const began = performance.now();
  const status = await new Promise<number>((resolve, reject) => {
    const sent = request(
      `${address}/api/imports/gatherings`,
      { method: 'POST', headers: { authorization: `Bearer ${keys.owner}`, 'content-type': 'text/csv' } },
      (answer) => answer.resume().once('end', () => resolve(answer.statusCode ?? 0)),
    );
    sent.once('error', reject);
    sent.end(text);
  });
  return `answered ${status} in ${((performance.now() - began) / 1000).toFixed(1)} s`;
}

async function importByCommand(folder: string, text: string): Promise<string> {
  const file = join(folder, 'rows.csv');
  writeFileSync(file, text);
  const began = performance.now();
  const command = startChild('env', [
    `BOILBOOK_DATA=${folder}`,
    process.execPath,
    join(packageRoot, 'dist/apps/cli/main.js'),
    'import',
    'gatherings',
    file,
  ]);
  const { code } = await command.ended;
  return `ended with ${code} in ${((performance.now() - began) / 1000).toFixed(1)} s`;
}

async function prepared(book: Book): Promise<Pick<Bench, 'keys' | 'packs'>> {
  const now = new Date();
  await writeBigBook(book, 170);
  const made = await Promise.all(
    (['guest', 'helper', 'owner'] as const).map(async (role) => {
      const key = await addKey(book, 'home', { name: role, role }, now);
      if ('problem' in key) throw new Error(JSON.stringify(key.problem));
      return [role, key.key] as const;
    }),
  );
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now, zone: 'America/New_York', clockIsRight: true };
  const packs: string[] = [];
  for (let n = 0; n < 60; n++) {
    const begun = await record(book, context, packsUnderway, {
      // From separate boils: packs of one boil are judged together.
      fromLots: `060${66 + Math.floor(n / 10)}${letter(n % 10)}:1 fl oz`,
      packedAt: new Date(now.getTime() - 600_000).toISOString(),
      container: 'glass jar 8 fl oz',
      by: 'OE',
    });
    if ('problem' in begun) throw new Error(JSON.stringify(begun.problem));
    packs.push(begun.id);
  }
  return { keys: Object.fromEntries(made) as Bench['keys'], packs };
}
