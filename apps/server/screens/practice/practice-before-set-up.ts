import { statSync } from 'node:fs';
import { join } from 'node:path';
import { isLoopback } from '../../http/host-names.js';
import type { Server } from '../../http/server.js';
import type { Principal } from '../../http/principal.js';

const reservationMs = 60 * 60_000;
const maxBytes = 64 * 1024 * 1024;

/**
 * Until the book has an owner anyone may practise, but from one address at a time: the last that opened the practice
 * book within the hour. The machine itself may always use it.
 */
export function mayPractise(server: Server, address: string, now: Date): boolean {
  const last = openedBy.get(server);
  const isTaken = last !== undefined && last.address !== address && now.getTime() < last.until;
  if (isTaken && !isLoopback(address)) return false;
  openedBy.set(server, { address, until: now.getTime() + reservationMs });
  return true;
}
const openedBy = new WeakMap<Server, { readonly address: string; readonly until: number }>();

/** Whether a write in practice is refused, so that the practice book takes no more of the disk than `maxBytes`. */
export const practiceIsFull = ({ practice, server }: Principal): boolean =>
  practice && sizeOf(server.settings.folder) > maxBytes;

const sizeOf = (folder: string): number =>
  ['book.sqlite', 'book.sqlite-wal']
    .map((name) => statSync(join(folder, 'practice', name), { throwIfNoEntry: false })?.size ?? 0)
    .reduce((sum, size) => sum + size, 0);
