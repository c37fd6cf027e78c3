import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import type { Random } from '../../generator/random.js';

/** A book's file and its write-ahead log at one moment. */
export interface Files {
  readonly database: Buffer;
  readonly log: Buffer;
}

const pageBytes = 4096;
/** https://sqlite.org/fileformat2.html#walformat: a header of 32 bytes, then frames of 24 bytes and a page. */
const headerBytes = 32;
const frameBytes = 24 + pageBytes;

export const readFiles = (file: string): Files => ({
  database: readFileSync(file),
  log: existsSync(`${file}-wal`) ? readFileSync(`${file}-wal`) : Buffer.alloc(0),
});

/** The files after a power failure. The shared memory is gone, as after a restart. */
export function writeFiles(file: string, { database, log }: Files): void {
  writeFileSync(file, database);
  writeFileSync(`${file}-wal`, log);
}

/**
 * The power fails while something is written to the write-ahead log after `before` was synced and before `after` is:
 * each frame that differs is the new one, the old one, or neither. SQLite syncs the header of a restarted log before it
 * writes a frame, so frames are new only under a new header.
 */
export function crashWhileWriting(random: Random, before: Files, after: Files): Files {
  const hasNewHeader = !after.log.subarray(0, headerBytes).equals(before.log.subarray(0, headerBytes));
  if (hasNewHeader && random.oneIn(3)) {
    const header = random.oneIn(2) ? scrambled(random, headerBytes) : before.log.subarray(0, headerBytes);
    return { database: before.database, log: Buffer.concat([header, before.log.subarray(headerBytes)]) };
  }
  const frames: Buffer[] = [after.log.subarray(0, headerBytes)];
  // In order up to some frame, as most disks do, or each independently.
  const isInOrder = random.oneIn(2);
  const count = Math.ceil(Math.max(0, after.log.length - headerBytes) / frameBytes);
  const cut = Math.round((count * random.whole(0, 100)) / 100);
  for (let n = 0; n < count; n++) {
    const at = headerBytes + n * frameBytes;
    const [old, wanted] = [before.log.subarray(at, at + frameBytes), after.log.subarray(at, at + frameBytes)];
    if (old.equals(wanted)) frames.push(wanted);
    else if (isInOrder ? n < cut : random.oneIn(2)) frames.push(wanted);
    else if (old.length === frameBytes && random.oneIn(2)) frames.push(old);
    else if (random.oneIn(3)) frames.push(Buffer.alloc(frameBytes));
    else frames.push(torn(random, wanted));
  }
  const log = Buffer.concat(frames);
  return {
    database: before.database,
    log: random.oneIn(4)
      ? log.subarray(0, Math.max(lastSame(before.log, log), log.length - random.whole(1, frameBytes)))
      : log,
  };
}

/** The length of the common start: what was synced is never cut off. */
function lastSame(one: Buffer, other: Buffer): number {
  let at = 0;
  while (at < one.length && at < other.length && one[at] === other[at]) at++;
  return at;
}

/** The power fails while the synced log is copied into the file: each page that differs is new, old or torn. */
export function crashWhileCopying(random: Random, before: Files, after: Files): Files {
  const pages: Buffer[] = [];
  const whole = Math.max(before.database.length, after.database.length);
  const end = random.oneIn(3) ? random.whole(before.database.length, whole) : whole;
  for (let at = 0; at < end; at += pageBytes) {
    const [old, wanted] = [before.database.subarray(at, at + pageBytes), after.database.subarray(at, at + pageBytes)];
    const isNew = old.equals(wanted) || random.oneIn(2);
    if (isNew) pages.push(wanted);
    else if (old.length > 0 && random.oneIn(2)) pages.push(old);
    else pages.push(torn(random, wanted));
  }
  return { database: Buffer.concat(pages), log: before.log };
}

/** All or part of a sector is garbage. */
function torn(random: Random, bytes: Buffer): Buffer {
  const copy = Buffer.from(bytes);
  const from = random.whole(0, Math.max(0, copy.length - 1));
  scrambled(random, Math.min(random.whole(1, 1024), copy.length - from)).copy(copy, from);
  return copy;
}

function scrambled(random: Random, count: number): Buffer {
  const bytes = Buffer.alloc(Math.max(0, count));
  for (let at = 0; at < bytes.length; at++) bytes[at] = random.whole(0, 255);
  return bytes;
}
