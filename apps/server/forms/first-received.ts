/** A form with its token, as its author sent it: a token is only its author's, in their sugarhouse and that book. */
export interface ReceivedForm {
  readonly practice: boolean;
  readonly sugarhouse: string;
  readonly author: string;
  readonly token: string;
}

/**
 * When a form was first received. "Now" in a form that was sent twice is the same moment both times, so that the second
 * is recognised as a repeat and not as another entry. The same token from somebody else is another form.
 */
export function firstReceived(form: ReceivedForm, now: Date): Date {
  const key = cacheKey(form);
  const earlier = receivedAt.get(key);
  if (earlier) return earlier;
  receivedAt.set(key, now);
  // The oldest are dropped; a form sent again after a thousand others is recognised by its token in the log.
  if (receivedAt.size > maxForms) receivedAt.delete(receivedAt.keys().next().value ?? '');
  return now;
}

/**
 * Forgets a form that was certainly not saved, so that it can be sent again with a later time: after the clock was set,
 * or once the disk has room.
 */
export const forgetReceived = (form: ReceivedForm): void => void receivedAt.delete(cacheKey(form));

const cacheKey = ({ practice, sugarhouse, author, token }: ReceivedForm): string =>
  JSON.stringify([practice, sugarhouse, author, token]);

const maxForms = 1000;
const receivedAt = new Map<string, Date>();
