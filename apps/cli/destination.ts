import { open, readlink, stat } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';

/** Where a document goes: an open stream of this process, a device or named pipe, or a file by its own name. */
export type Destination =
  | { readonly kind: 'open'; readonly fd: number }
  | { readonly kind: 'device'; readonly path: string }
  | { readonly kind: 'new'; readonly path: string }
  | { readonly kind: 'replaced'; readonly path: string; readonly mode: number };

/** The destination can't be written, or writing would destroy it; nothing is wrong with the book. */
export class NotWritable extends Error {}

/** The reader closed the stream before the document was complete. */
export class ReaderClosed extends Error {}

/** The error for a destination that can't be written, worded as the refusal of the option `--out`. */
export const notWritable = (expected: string, got: string): NotWritable =>
  new NotWritable(`Out: expected ${expected}, got ${got}`);

/** Links are followed here and stay links: a document renamed over `/dev/stdout` would take the device away. */
export async function resolveDestination(typed: string, force: boolean): Promise<Destination> {
  const path = await resolveLinks(typed);
  if (typeof path === 'number') return { kind: 'open', fd: path };
  const stats = await statIfExists(path);
  if (stats?.isDirectory()) throw notWritable('a file', `the folder "${typed}"`);
  if (stats && !stats.isFile()) return { kind: 'device', path };
  if (stats && !force) throw notWritable('a file that does not exist yet, or --force to overwrite it', `"${typed}"`);
  if (stats && (await isDatabase(path)))
    throw notWritable('a file that is not a record book or a backup', `"${typed}", which is a database`);
  if (stats) return { kind: 'replaced', path, mode: stats.mode };
  const folder = dirname(path);
  const parent = await statIfExists(folder);
  if (!parent) throw notWritable('a file in an existing folder', `"${typed}": there is no folder ${folder}`);
  if (!parent.isDirectory()) throw notWritable('a file in a folder', `"${typed}": ${folder} is not a folder`);
  return { kind: 'new', path };
}

/** Whether the document goes to standard output, so that nothing else may be printed there. */
export const isStandardOutput = (typed: string): Promise<boolean> =>
  resolveLinks(typed).then(
    (path) => path === 1,
    () => false,
  );

/** Whether it is a device, pipe or stream rather than a file with an ending. */
export async function hasNoEnding(typed: string): Promise<boolean> {
  const path = await resolveLinks(typed);
  if (typeof path === 'number') return true;
  const stats = await statIfExists(path);
  return stats !== undefined && !stats.isFile() && !stats.isDirectory();
}

/** The path at the end of all links, or the number of a stream that this process has open. */
async function resolveLinks(typed: string): Promise<string | number> {
  if (typed === '-') return 1;
  let path = resolve(typed);
  // Linux gives up after 40 links too.
  for (let links = 0; links < 40; links++) {
    const open = openDescriptor(path);
    if (open !== undefined) return open;
    const to = await readlink(path).catch(() => undefined);
    if (to === undefined) return path;
    path = resolve(dirname(path), to);
  }
  throw notWritable('a file', `"${typed}", a loop of links`);
}

function openDescriptor(path: string): number | undefined {
  if (path === '/dev/stdout') return 1;
  if (path === '/dev/stderr') return 2;
  const fd = /^(?:\/dev|\/proc\/self)\/fd\/(\d{1,6})$/.exec(path)?.[1];
  return fd === undefined ? undefined : Number(fd);
}

/**
 * Whether a file is a SQLite database or its write-ahead log: no document replaces the record itself, whatever its name.
 * By the first bytes of each (sqlite.org/fileformat2.html, 1.3 and 4.1).
 */
async function isDatabase(path: string): Promise<boolean> {
  const file = await open(path).catch(() => undefined);
  if (!file) return false;
  try {
    const { buffer } = await file.read(Buffer.alloc(16), 0, 16, 0);
    return buffer.toString('latin1') === 'SQLite format 3\0' || /^377f068[23]/.test(buffer.toString('hex'));
  } finally {
    await file.close();
  }
}

const statIfExists = (path: string) =>
  stat(path).catch((fault: NodeJS.ErrnoException) => {
    if (fault.code === 'ENOENT') return undefined;
    throw notWritable('a file in a folder that you may write to', `"${path}" (${fault.code ?? fault.message})`);
  });
