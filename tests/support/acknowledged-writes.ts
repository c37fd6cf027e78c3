import { expect } from '@jest/globals';
import { openBook } from '#libs/store/book.js';
import type { BookLocation } from '#libs/store/connection/engine.js';
import { findByOwnId, findLot, findRecord, jarsOfPack } from '#libs/store/queries/lots.js';
import { type SugarhouseReader, sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { checkBookFile } from '#libs/store/backup/backup.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { sugarhouse } from './sugarhouse.js';

/** The writes that were acknowledged: the test's id and the book's. */
export type Ledger = Map<string, string>;

export function enter(ledger: Ledger, lines: readonly string[]): number {
  let entered = 0;
  for (const line of lines) {
    const [word, id = '', provided = ''] = line.split(' ');
    if (word !== 'kept') continue;
    ledger.set(id, provided);
    entered++;
  }
  return entered;
}

/**
 * Checks that everything acknowledged is there, once and complete; the rest is complete or absent. Returns the number
 * of entries.
 */
export async function reconcile(location: BookLocation, ledger: Ledger): Promise<number> {
  if ('file' in location) await checkBookFile(location.file);
  const book = await openBook(location);
  try {
    const verified = await verifyBook(book);
    expect(verified).toMatchObject({ ok: true });
    const lost: string[] = [];
    for (const [id, provided] of ledger)
      if (!(await isWhole(sugarhouseReader(book.read, sugarhouse), id, provided))) lost.push(id);
    expect(lost).toEqual([]);
    const keys = await book.read.rows<{
      key: string;
      times: number | string;
    }>`SELECT idempotency_key AS key, COUNT(*) AS times
      FROM entry GROUP BY idempotency_key HAVING COUNT(*) > 1`;
    expect(keys).toEqual([]);
    const halfPacks = await book.read
      .rows`SELECT code FROM lot WHERE kind = 'pack' AND jars <> (SELECT COUNT(*) FROM jar WHERE jar.pack = lot.code)`;
    expect(halfPacks).toEqual([]);
    return verified.entries;
  } finally {
    await book.close();
  }
}

async function isWhole(reader: SugarhouseReader, id: string, provided: string): Promise<boolean> {
  if (provided === id) return (await findRecord(reader, 'gathering', id)) !== undefined;
  const kind = provided.includes('-') ? 'pack' : 'boil';
  if ((await findByOwnId(reader, kind, id))?.id !== provided) return false;
  if (kind === 'boil') return (await findLot(reader, provided)) !== undefined;
  let jars = 0;
  for await (const jar of jarsOfPack(reader, provided)) jars = jar.n;
  return jars === 5;
}
