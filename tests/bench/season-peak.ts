import { execFile, fork } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Writable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { seasonDocument } from '#libs/actions/season/season-document.js';
import { packageRoot } from '#libs/package-root.js';
import { openBook, openBookForReading } from '#libs/store/book.js';
import { inFolder } from './bench.js';
import { readable } from './reads.js';

/**
 * The most memory, in MB, that a process takes which reads and draws a season of 510 packs with a page each: one that the
 * server starts for it, with its heap limit, and `book summary --lot-pages`.
 */
export function seasonPeaks(): Promise<{ server: number; commandLine: number }> {
  return inFolder(async (folder) => {
    const file = join(folder, 'book.sqlite');
    const book = await openBook({ file });
    await readable(book, 170, { aSeason: 210 });
    await book.close();
    return { server: await peak(file, ['--max-old-space-size=768']), commandLine: await peakOfCommand(folder) };
  });
}

async function peak(file: string, execArgv: readonly string[]): Promise<number> {
  const child = fork(fileURLToPath(import.meta.url), [file], { execArgv: [...execArgv] });
  const ended = once(child, 'exit');
  const said = await Promise.race([once(child, 'message'), ended.then(() => [])]);
  if (typeof said[0] !== 'number') throw new Error('The process that draws the season ended without an answer');
  await ended;
  return said[0];
}

/** The peak of the command, which it writes to a file when it ends. */
async function peakOfCommand(folder: string): Promise<number> {
  const peakFile = join(folder, 'peak');
  const hook = `import { writeFileSync } from 'node:fs';
    process.on('exit', () => writeFileSync(${JSON.stringify(peakFile)}, String(process.resourceUsage().maxRSS / 1024)));`;
  const script = join(packageRoot, 'dist/apps/cli/main.js');
  const words = ['summary', '2006', '--lot-pages', '--out', join(folder, 'season.pdf')];
  await promisify(execFile)(
    process.execPath,
    ['--import', `data:text/javascript,${encodeURIComponent(hook)}`, script, ...words],
    { env: { ...process.env, BOILBOOK_DATA: folder } },
  );
  return Number(readFileSync(peakFile, 'utf8'));
}

async function drawHere(file: string): Promise<void> {
  const book = await openBookForReading({ file });
  const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: new Date('2006-06-01T12:00:00Z'), zone: 'UTC' };
  const request = { year: '2006', format: 'pdf', base: '', lotPages: true };
  const document = await seasonDocument(book, context, request);
  if ('problem' in document) throw new Error(JSON.stringify(document.problem));
  await document.write(new Writable({ write: (_piece, _encoding, done) => done() }));
  await book.close();
  process.send?.(process.resourceUsage().maxRSS / 1024);
  process.disconnect();
}

const [script = '', file] = process.argv.slice(1);
if (script === fileURLToPath(import.meta.url) && file !== undefined) await drawHere(file);
