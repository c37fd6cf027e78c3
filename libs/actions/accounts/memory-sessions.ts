import type { Book } from '#libs/store/book.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findPerson } from '#libs/store/household/household.js';
import type { Session } from '#libs/store/household/household-tokens.js';

/** More devices than a household has; the oldest session is dropped first. */
const maxSessions = 50;
interface MemorySession {
  readonly session: Session;
  /** The person's password hash when the session began: a new password ends the session. */
  readonly password: string | undefined;
}
const sessions = new WeakMap<Book, Map<string, MemorySession>>();

/**
 * Keeps a session in this process only, for when the disk is full: people can still read on a new device. It lasts
 * until the server ends, the person leaves or has a new password, or they sign out.
 */
export function keepSessionInMemory(book: Book, session: Session, password: string | undefined): void {
  const bookSessions = sessions.get(book) ?? new Map<string, MemorySession>();
  sessions.set(book, bookSessions);
  bookSessions.set(session.tokenHash, { session, password });
  const [oldest] = bookSessions.keys();
  if (bookSessions.size > maxSessions && oldest !== undefined) bookSessions.delete(oldest);
}

/** The session with this token hash, with the person's current role. */
export async function findSessionInMemory(book: Book, tokenHash: string, now: string): Promise<Session | undefined> {
  const found = sessions.get(book)?.get(tokenHash);
  if (!found || found.session.endsAt <= now) return undefined;
  const person = await findPerson(sugarhouseReader(book.read, found.session.sugarhouse), found.session.initials);
  if (!person || person.endedAt !== undefined || person.password !== found.password) return undefined;
  return { ...found.session, role: person.role };
}

/** False where there was no such session. */
export const endSessionInMemory = (book: Book, tokenHash: string): boolean =>
  sessions.get(book)?.delete(tokenHash) ?? false;
