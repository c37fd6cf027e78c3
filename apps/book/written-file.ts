import { createWriteStream } from 'node:fs';
import { mkdir, rename, rm } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import type { Writable } from 'node:stream';

/** Writes a document under another name and gives it its own when it is whole: an old one is never half overwritten. */
export async function writtenFile<T>(path: string, write: (out: Writable) => Promise<T>): Promise<T> {
  const file = resolve(path);
  const unfinished = `${file}.unfinished-${process.pid}`;
  await mkdir(dirname(file), { recursive: true });
  const out = createWriteStream(unfinished);
  try {
    const closed = new Promise<void>((done, failed) => out.once('close', done).once('error', failed));
    const answer = await Promise.race([write(out), closed.then(() => new Promise<never>(() => {}))]);
    if (!out.writableEnded) out.end();
    await closed;
    const refusal = typeof answer === 'object' && answer !== null && 'problem' in answer;
    if (!refusal) await rename(unfinished, file);
    return answer;
  } finally {
    out.destroy();
    await rm(unfinished, { force: true });
  }
}
