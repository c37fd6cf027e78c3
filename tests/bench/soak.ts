import { spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { parseArgs } from 'node:util';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { packageRoot } from '#libs/package-root.js';
import { openBook } from '#libs/store/book.js';
import type { BookLocation } from '#libs/store/connection/engine.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { postgres, sqlite } from '../support/engines.js';
import { startSeason } from '../support/sugarhouse.js';

const usage = `npm run bench -- soak [--minutes 30] [--postgres]
A server of its own under an evening's taps, beside imports, PDFs and backups; prints the 99th percentile of the taps, its
memory and its open files at the start, in the middle and at the end.`;

/** The durations of one kind of request, in milliseconds, within a third of the run. */
type Times = Map<string, number[]>;
interface Third {
  readonly times: Times;
  rssMb: number;
  files: number;
}

/**
 * The whole command; returns the exit status: 0 passed, 1 a request failed or verify found a difference, 2 invalid
 * arguments.
 */
export async function runSoak(argv: readonly string[]): Promise<number> {
  let minutes = 30;
  let isPostgres = false;
  try {
    const { values } = parseArgs({
      args: [...argv],
      options: { minutes: { type: 'string' }, postgres: { type: 'boolean' } },
    });
    minutes = Number(values.minutes ?? 30);
    isPostgres = values.postgres === true;
    if (!(minutes > 0)) throw new Error('minutes');
  } catch {
    console.error(usage);
    return 2;
  }
  const engine = isPostgres ? postgres() : sqlite();
  await engine.start();
  const folder = mkdtempSync(join(tmpdir(), 'boilbook-soak-'));
  const location = await engine.freshKeeping();
  const keys = await begin(location);
  const server = await served(location, folder);
  const faults: string[] = [];
  try {
    const thirds = await underLoad({ base: server.base, keys, pid: server.pid, minutes, faults });
    for (const line of report(thirds, minutes)) console.log(line);
  } finally {
    await server.stop();
    const book = await openBook(location);
    const verified = await verifyBook(book);
    await book.close();
    console.log(`verify: ${verified.ok ? 'no difference' : verified.firstDifference}, ${verified.entries} entries`);
    if (!verified.ok) faults.push('verify');
    await engine.stop();
    rmSync(folder, { recursive: true, force: true });
  }
  for (const fault of faults.slice(0, 20)) console.error(fault);
  return faults.length === 0 ? 0 : 1;
}

async function begin(location: BookLocation): Promise<{ owner: string; maker: string }> {
  const book = await openBook(location);
  await startSeason(book);
  const keyOf = async (role: string): Promise<string> => {
    const made = await addKey(book, 'home', { name: role, role }, new Date());
    return 'key' in made ? made.key : '';
  };
  const keys = { owner: await keyOf('owner'), maker: await keyOf('maker') };
  await book.close();
  return keys;
}

async function served(location: BookLocation, folder: string) {
  const at = 'url' in location ? { BOILBOOK_DATABASE_URL: location.url } : {};
  const data = 'file' in location ? join(location.file, '..') : folder;
  const port = 18_000 + (process.pid % 2000);
  if ('file' in location)
    await import('node:fs').then(({ renameSync }) => renameSync(location.file, join(data, 'book.sqlite')));
  if ('file' in location) Object.assign(location, { file: join(data, 'book.sqlite') });
  const env = {
    PATH: process.env['PATH'],
    BOILBOOK_DATA: data,
    BOILBOOK_PORT: String(port),
    BOILBOOK_TIME_ZONE: 'America/New_York',
    ...at,
  };
  const child = spawn(process.execPath, [join(packageRoot, 'dist/apps/server/main.js')], {
    env,
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  const base = `http://127.0.0.1:${port}`;
  for (let tries = 0; tries < 300; tries++) {
    if (
      await fetch(`${base}/healthz`).then(
        (answer) => answer.ok,
        () => false,
      )
    )
      break;
    await pause(200);
  }
  const ended = new Promise((resolve) => child.once('exit', resolve));
  return { base, pid: child.pid ?? 0, stop: async () => (child.kill('SIGTERM'), void (await ended)) };
}

interface Load {
  readonly base: string;
  readonly keys: { readonly owner: string; readonly maker: string };
  readonly pid: number;
  readonly minutes: number;
  readonly faults: string[];
}

/** Four people tap and read; meanwhile an import, documents and backups run one after the other, with pauses. */
async function underLoad({ base, keys, pid, minutes, faults }: Load): Promise<Third[]> {
  const began = performance.now();
  const thirds: Third[] = [0, 1, 2].map(() => ({ times: new Map<string, number[]>(), rssMb: 0, files: 0 }));
  const share = (): number => (performance.now() - began) / (minutes * 60_000);
  const isOver = (): boolean => share() >= 1;
  const ask = async (kind: string, path: string, options: RequestInit, key = keys.maker): Promise<void> => {
    const from = performance.now();
    const third = thirds[Math.min(2, Math.floor(share() * 3))]!;
    try {
      const answer = await fetch(base + path, {
        redirect: 'manual',
        ...options,
        headers: { authorization: `Bearer ${key}`, ...options.headers },
      });
      await answer.arrayBuffer();
      if (answer.status >= 400) faults.push(`${kind} ${path}: ${answer.status}`);
    } catch (fault) {
      faults.push(`${kind} ${path}: ${(fault as Error).message}`);
    }
    const times = third.times.get(kind) ?? [];
    third.times.set(kind, times);
    times.push(performance.now() - from);
  };
  const json = (body: unknown): RequestInit => ({
    method: 'POST',
    body: JSON.stringify(body),
    headers: { 'content-type': 'application/json' },
  });
  const form = (fields: Record<string, string>): RequestInit => ({
    method: 'POST',
    body: new URLSearchParams(fields).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
  let made = 0;
  const person = async (n: number): Promise<void> => {
    for (let turn = n; !isOver(); turn++) {
      const id = `X${++made}`;
      if (turn % 4 === 0)
        await ask(
          'tap',
          '/sap/gather',
          form({ id, gatheredAt: '2026-03-19T15:00', source: 'south road', volume: '8 gal', _once: id }),
        );
      else if (turn % 4 === 1)
        await ask(
          'tap',
          '/api/gatherings',
          json({ id, gatheredAt: '2026-03-19T15:00', source: 'lower lines', volume: '8 gal', by: 'JP' }),
        );
      else if (turn % 4 === 2)
        await ask(
          'tap',
          '/api/counts',
          json({ id, lot: '26077A-1', jars: '40', countedAt: '2026-04-20T18:00', by: 'OE' }),
        );
      else await ask('page', ['/', '/packs', '/lots/26077A-1', '/jars/26077A-1'][turn % 3] ?? '/', {});
      await pause(150);
    }
  };
  const over = async (restMs: number, work: () => Promise<void>): Promise<void> => {
    while (!isOver()) {
      await work();
      await pause(restMs);
    }
  };
  const rows = (): string => {
    const lines = Array.from({ length: 300 }, () => `X${++made},2026-03-18T16:00,upper lines,9 gal`);
    return `id,gathered_at,source,volume\n${lines.join('\n')}\n`;
  };
  const watch = over(2000, async () => {
    const third = thirds[Math.min(2, Math.floor(share() * 3))]!;
    third.rssMb = Math.max(third.rssMb, rssMbOf(pid));
    third.files = Math.max(third.files, readdirSync(`/proc/${pid}/fd`).length);
  });
  await Promise.all([
    ...[0, 1, 2, 3].map(person),
    watch,
    over(15_000, () =>
      ask('import', '/api/imports/gatherings', {
        method: 'POST',
        body: rows(),
        headers: { 'content-type': 'text/csv' },
      }),
    ),
    over(5000, () => ask('summary', '/api/seasons/2026/summary.pdf', {})),
    over(7000, () => ask('labels', '/api/lots/26077A-1/labels.pdf?stock=letter-30-up-66x25', {})),
    over(60_000, () => ask('backup', '/files/backup', { method: 'POST' }, keys.owner)),
  ]);
  return thirds;
}

const rssMbOf = (pid: number): number =>
  Math.round(Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? 0) / 1024);

function report(thirds: readonly Third[], minutes: number): string[] {
  const kinds = [...new Set(thirds.flatMap(({ times }) => [...times.keys()]))];
  const part = (times: readonly number[] = [], of: number): number =>
    Math.round([...times].sort((a, b) => a - b)[Math.min(times.length - 1, Math.floor(times.length * of))] ?? 0);
  return [
    `soak: ${minutes} min; start, middle and end of it`,
    ...kinds.map((kind) => {
      const each = thirds.map(({ times }) => times.get(kind));
      return `  ${kind}: ${each.map((times) => `${times?.length ?? 0} × median ${part(times, 0.5)}, 99 % ${part(times, 0.99)}, most ${part(times, 1)} ms`).join(' | ')}`;
    }),
    `  most memory: ${thirds.map(({ rssMb }) => `${rssMb} MB`).join(' | ')}`,
    `  most open files: ${thirds.map(({ files }) => files).join(' | ')}`,
  ];
}
