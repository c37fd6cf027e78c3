import { once } from 'node:events';
import { createWriteStream } from 'node:fs';
import { mkdir, rename, rm } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import type { Writable } from 'node:stream';

/** The place that a document should go to cannot be written; nothing of the book is at fault. */
export class NotWritable extends Error {}

/** Writes a document under another name and gives it its own when it is whole: an old one is never half overwritten. */
export async function writtenFile<T>(path: string, write: (out: Writable) => Promise<T>): Promise<T> {
  const file = resolve(path);
  const unfinished = `${file}.unfinished-${process.pid}`;
  await mkdir(dirname(file), { recursive: true }).catch((fault: unknown) => Promise.reject(notWritable(path, fault)));
  const out = createWriteStream(unfinished);
  try {
    const closed = new Promise<void>((done, failed) => out.once('close', done).once('error', failed));
    // Nothing is done for a document that has nowhere to go.
    await Promise.race([once(out, 'open'), closed]);
    const answer = await Promise.race([write(out), closed.then(() => new Promise<never>(() => {}))]);
    if (!out.writableEnded) out.end();
    await closed;
    const refusal = typeof answer === 'object' && answer !== null && 'problem' in answer;
    if (!refusal) await rename(unfinished, file);
    return answer;
  } catch (fault) {
    throw notWritable(path, fault);
  } finally {
    out.destroy();
    await rm(unfinished, { force: true });
  }
}

function notWritable(path: string, fault: unknown): unknown {
  const { code = '' } = fault as NodeJS.ErrnoException;
  if (!['ENOENT', 'ENOTDIR', 'EISDIR', 'EEXIST', 'EPERM', 'EACCES', 'EROFS'].includes(code)) return fault;
  return new NotWritable(`Out: expected a file in a folder that can be written, got "${path}" (${code})`);
}
