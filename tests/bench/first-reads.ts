import { join } from 'node:path';
import type { Book } from '#libs/store/book.js';
import { packageRoot } from '#libs/package-root.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { startChild } from '../support/child-process.js';
import { inFolder } from './bench.js';
import { between, spentMs } from './processor-time.js';
import { type Ask, measure } from './reads.js';

/** Milliseconds of a server's processor time, all of its threads, for a trace page that it has not drawn before. */
export interface FirstReads {
  /** Pages read for each of the two figures. */
  readonly pages: number;
  /** Of the first jar of a pack of which it has drawn no page. */
  readonly ofPack: number;
  /** Of a second jar of the same packs. */
  readonly ofJar: number;
}

/**
 * Reads each trace page once, by a server process of its own. It compiles its code on the jars of every second pack; of
 * the others, read next, nothing is kept.
 */
export async function firstReads(book: Book, session: readonly string[]): Promise<FirstReads> {
  const { url } = book.location as { url: string };
  const jars = await book.read.statement<{ pack: string; n: number; code: string }>(
    'SELECT pack, n, code FROM jar ORDER BY pack, n',
  );
  const packs = [...new Set(jars.map(({ pack }) => pack))];
  const measured = new Set(packs.filter((_, n) => n % 2 === 1));
  const pages = (some: typeof jars): Ask[] =>
    some.map(({ code }) => ({ path: `/jars/${code}`, word: `Jar ${printedJarCode(code)}`, carries: session }));
  return inFolder(async (folder) => {
    const child = startChild('env', [
      `BOILBOOK_DATA=${join(folder, 'data')}`,
      `BOILBOOK_DATABASE_URL=${url}`,
      'BOILBOOK_PORT=0',
      process.execPath,
      join(packageRoot, 'dist/apps/server/main.js'),
    ]);
    try {
      const port = Number(/:(\d+)$/.exec(await child.waitForLine(/^Boilbook \S+: http/))?.[1]);
      const processorMs = async (asks: readonly Ask[]): Promise<number> => {
        const pids = [child.process.pid ?? 0];
        const before = spentMs(pids);
        await measure([port], asks);
        return between(before, spentMs(pids)) / asks.length;
      };
      await processorMs(pages(jars.filter(({ pack, n }) => !measured.has(pack) && n <= jarsToWarmUp)));
      const [first, second] = [1, 2].map((which) =>
        pages(jars.filter(({ pack, n }) => measured.has(pack) && n === which)),
      );
      return { pages: measured.size, ofPack: await processorMs(first!), ofJar: await processorMs(second!) };
    } finally {
      child.process.kill('SIGTERM');
      await child.ended;
    }
  });
}

const jarsToWarmUp = 10;
