import type { RecordRow } from './entry.js';

/**
 * When the recorded event happened, ISO 8601 with its offset; undefined where the record has no such field and the time
 * of its first entry counts. Replay of older books depends on it, so the field of a kind must not change.
 */
export function occurredAt(row: RecordRow): string | undefined {
  switch (row.kind) {
    case 'gathering':
      return row.body.gatheredAt;
    case 'receipt':
      return row.body.receivedAt;
    case 'boil':
      return row.body.beganAt;
    case 'pack':
      return row.body.packedAt;
    case 'draw':
      return row.body.drawnAt;
    case 'dispatch':
      return row.body.sentAt;
    case 'count':
      return row.body.countedAt;
    default: {
      const { at } = row.body as { readonly at?: unknown };
      return typeof at === 'string' ? at : undefined;
    }
  }
}
