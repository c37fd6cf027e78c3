import type { Book } from '#libs/store/book.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findPerson } from '#libs/store/household/household.js';
import type { Session } from '#libs/store/household/household-tokens.js';

/** More devices than a household has; the oldest session is dropped first. */
const most = 50;
interface Kept {
  readonly session: Session;
  /** The person's password hash when the session began: a new password ends the session. */
  readonly password: string | undefined;
}
const sessions = new WeakMap<Book, Map<string, Kept>>();

/**
 * Keeps a session in this process only, for when the disk is full: people can still read on a new device. It lasts
 * until the server ends, the person leaves or has a new password, or they sign out.
 */
export function keepInMemory(book: Book, session: Session, password: string | undefined): void {
  const kept = sessions.get(book) ?? new Map<string, Kept>();
  sessions.set(book, kept);
  kept.set(session.tokenHash, { session, password });
  const [oldest] = kept.keys();
  if (kept.size > most && oldest !== undefined) kept.delete(oldest);
}

/** The session with this token hash, with the person's current role. */
export async function sessionInMemory(book: Book, tokenHash: string, now: string): Promise<Session | undefined> {
  const kept = sessions.get(book)?.get(tokenHash);
  if (!kept || kept.session.endsAt <= now) return undefined;
  const person = await findPerson(sugarhouseReader(book.read, kept.session.sugarhouse), kept.session.initials);
  if (!person || person.endedAt !== undefined || person.password !== kept.password) return undefined;
  return { ...kept.session, role: person.role };
}

/** False where there was no such session. */
export const endInMemory = (book: Book, tokenHash: string): boolean => sessions.get(book)?.delete(tokenHash) ?? false;
