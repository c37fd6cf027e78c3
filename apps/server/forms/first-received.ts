/**
 * When a form was first received, by its token. "Now" in a form that was sent twice is the same moment both times, so
 * that the second is recognised as a repeat and not as another entry.
 */
export function firstReceived(token: string, now: Date): Date {
  const before = received.get(token);
  if (before) return before;
  received.set(token, now);
  // The oldest are dropped; a form sent again after a thousand others is recognised by its token in the log.
  if (received.size > most) received.delete(received.keys().next().value ?? '');
  return now;
}

/**
 * Forgets a form that was certainly not saved, so that it can be sent again with a later time: after the clock was set,
 * or once the disk has room.
 */
export const forgetReceived = (token: string): void => void received.delete(token);

const most = 1000;
const received = new Map<string, Date>();
