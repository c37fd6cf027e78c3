import { once } from 'node:events';
import { constants, createWriteStream } from 'node:fs';
import { chmod, copyFile, link, rename, rm } from 'node:fs/promises';
import { extname } from 'node:path';
import { Writable } from 'node:stream';
import { invalid, isRefusal, type Refusal } from '#libs/actions/record/problem.js';
import { paperNamed, paperNames, type PaperName } from '#libs/pdf/paper-size.js';
import type { Terminal } from './terminal.js';
import { type CommandContext, optionText } from './command.js';
import {
  type Destination,
  resolveDestination,
  hasNoEnding,
  NotWritable,
  notWritable,
  ReaderClosed,
} from './destination.js';

/** Options of a command that writes a document. */
export const documentOptions = { out: 'text', force: 'flag' } as const;
export const documentOptionHelp = {
  out: 'The file to write; - is standard output.',
  force: 'Overwrites an existing file.',
};

/** A file's format follows its ending; a device, a pipe and standard output have none. */
export async function refuseWrongEnding(out: string, endings: readonly string[]): Promise<Refusal | undefined> {
  if (endings.includes(extname(out).toLowerCase()) || (out !== '' && (await hasNoEnding(out)))) return undefined;
  return invalid('out', `a file that ends in ${endings.join(', ')}, or -`, out ? `"${out}"` : 'nothing');
}

/** The paper size for a PDF; `name` is undefined where the option was not given. */
export function requestedPaper(
  cli: CommandContext,
  ending: string,
): { readonly name: PaperName | undefined } | Refusal {
  const typed = optionText(cli, 'paper');
  if (typed === undefined) return { name: undefined };
  const name = paperNamed(typed);
  if (name === undefined) return invalid('paper', `one of ${paperNames.join(', ')}`, `"${typed}"`);
  return ending === '.pdf' ? { name } : invalid('paper', '--paper only with a PDF', `"${typed}"`);
}

/** The document's name in the sentence that reports where it was written. */
export const documentName = (out: string): string => (out === '-' ? 'Standard output' : out);

/**
 * Writes a document to `--out`. A file is written under a temporary name and renamed when complete, so an existing one
 * is never half overwritten; a device, a pipe or standard output is written directly. Where `write` returns a problem,
 * no file is left.
 */
export async function writeDocument<T>(cli: CommandContext, write: (out: Writable) => Promise<T>): Promise<T> {
  const typed = optionText(cli, 'out') ?? '';
  const destination = await resolveDestination(typed, cli.options['force'] === true);
  try {
    return destination.kind === 'new' || destination.kind === 'replaced'
      ? await writeToFile(destination, write)
      : await writeToStream(
          destination.kind === 'open'
            ? streamForDescriptor(destination.fd, cli.terminal)
            : createWriteStream(destination.path),
          write,
        );
  } catch (fault) {
    throw asNotWritable(typed, fault);
  }
}

async function writeToFile<T>(
  destination: Extract<Destination, { kind: 'new' | 'replaced' }>,
  write: (out: Writable) => Promise<T>,
): Promise<T> {
  const temporaryPath = `${destination.path}.unfinished-${process.pid}`;
  try {
    const answer = await writeToStream(createWriteStream(temporaryPath), write);
    if (isRefusal(answer)) return answer;
    if (destination.kind === 'replaced') {
      await chmod(temporaryPath, destination.mode & 0o7777);
      await rename(temporaryPath, destination.path);
    } else await moveIntoPlace(temporaryPath, destination.path);
    return answer;
  } finally {
    await rm(temporaryPath, { force: true });
  }
}

/** Renames the finished file, unless another process has created one of that name meanwhile. */
async function moveIntoPlace(temporaryPath: string, path: string): Promise<void> {
  try {
    await link(temporaryPath, path);
  } catch (fault) {
    if ((fault as NodeJS.ErrnoException).code === 'EEXIST') throw fault;
    // Memory sticks' file systems have no hard links.
    await copyFile(temporaryPath, path, constants.COPYFILE_EXCL);
  }
}

async function writeToStream<T>(
  out: Writable & { readonly pending?: boolean },
  write: (out: Writable) => Promise<T>,
): Promise<T> {
  try {
    const closed = new Promise<void>((done, failed) => out.once('close', done).once('error', failed));
    // Opened first, so that no work is done for a document that can't be written.
    if (out.pending) await Promise.race([once(out, 'open'), closed]);
    const answer = await Promise.race([write(out), closed.then(() => new Promise<never>(() => {}))]);
    if (!out.writableEnded) out.end();
    await closed;
    return answer;
  } finally {
    out.destroy();
  }
}

/** A stream that this process was given; it stays open when the document ends. */
function streamForDescriptor(fd: number, { stdout, stderr }: Terminal): Writable {
  const target: Writable = fd === 1 ? stdout : fd === 2 ? stderr : createWriteStream('', { fd, autoClose: false });
  return new Writable({
    write: (chunk: Buffer, _, done) => void target.write(chunk, done),
    final: (done) => {
      if (fd > 2) target.end(done);
      else done();
    },
  });
}

function asNotWritable(typed: string, fault: unknown): unknown {
  if (fault instanceof NotWritable) return fault;
  const { code = '' } = fault as NodeJS.ErrnoException;
  if (code === 'EPIPE') return new ReaderClosed('The reader closed the output before the document was complete.');
  if (code === 'EEXIST')
    return notWritable('a file that does not exist yet', `"${typed}", which another program has just created`);
  if (!['ENOENT', 'ENOTDIR', 'EISDIR', 'EPERM', 'EACCES', 'EROFS', 'ENXIO', 'EBADF'].includes(code)) return fault;
  return notWritable('a file in a folder that you may write to', `"${typed}" (${code})`);
}
