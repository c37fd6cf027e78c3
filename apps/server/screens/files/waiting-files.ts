import { randomUUID } from 'node:crypto';

export interface WaitingFile {
  readonly kind: string;
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly why: string | undefined;
  /** Only the person who previewed it may import it. */
  readonly by: string;
}

/** Keeps a file between its preview and its import; of more than a few, the oldest is dropped. */
export function saveWaiting(file: WaitingFile): string {
  const ticket = randomUUID();
  waiting.set(ticket, file);
  for (const oldest of waiting.keys()) {
    const bytes = [...waiting.values()].reduce((sum, each) => sum + each.bytes.length, 0);
    if (waiting.size <= mostFiles && bytes <= mostBytes) break;
    if (oldest !== ticket) waiting.delete(oldest);
  }
  return ticket;
}

/** The file of this ticket, only for the person who sent it; undefined for anyone else. */
export function takeWaiting(ticket: string, by: string): WaitingFile | undefined {
  const file = waiting.get(ticket);
  return file?.by === by ? file : undefined;
}

const mostFiles = 8;
const mostBytes = 64 * 1024 * 1024;
const waiting = new Map<string, WaitingFile>();
