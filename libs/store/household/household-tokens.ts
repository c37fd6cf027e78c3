import type { Role } from './household.js';
import type { Sql } from '../connection/sql.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/**
 * Sessions, keys and guests' links: each is stored under the hash of its token, never the token itself. They are found
 * by the token alone and name their sugarhouse, so no request can choose another.
 */
export interface Session {
  readonly sugarhouse: string;
  readonly tokenHash: string;
  readonly initials: string;
  readonly role: Role;
  readonly beganAt: string;
  readonly seenAt: string;
  readonly endsAt: string;
  /** The browser's name, shortened; for a guest, the link that was used. */
  readonly device: string;
}

/** Together with the state of the log: every page needs both, and one statement returns them. */
type Found<T> = T & { readonly bookState: string };

/** A session still valid at `now`, with the person's current role, not the one at sign-in. */
export async function findSession(sql: Sql, tokenHash: string, now: string): Promise<Found<Session> | undefined> {
  const row = await sql.row<
    SessionColumns & HeadColumns
  >`SELECT session.*, person.role AS role_today, person.ended_at AS person_ended,
      guest.ended_at AS guest_ended, head.entries, head.frontier
    FROM household_session AS session JOIN record_head AS head ON head.id = 1
    LEFT JOIN household_person AS person ON person.sugarhouse = session.sugarhouse AND person.initials = session.initials
      AND session.role <> 'guest'
    LEFT JOIN household_guest AS guest ON guest.sugarhouse = session.sugarhouse AND guest.token_hash = session.guest_hash
    WHERE session.token_hash = ${tokenHash} AND session.ends_at > ${now}`;
  if (!row) return undefined;
  const ended = row.role === 'guest' ? row.guest_hash === null || row.guest_ended !== null : row.role_today === null;
  return ended || row.person_ended !== null ? undefined : { ...sessionFrom(row), bookState: stateOf(row) };
}

/** The sugarhouse's valid sessions, each with its person's current role. */
export async function sessionsOf({ sql, sugarhouse }: SugarhouseReader, now: string): Promise<Session[]> {
  const rows = await sql.rows<SessionColumns>`SELECT session.*, person.role AS role_today
    FROM household_session AS session
    LEFT JOIN household_person AS person ON person.sugarhouse = session.sugarhouse AND person.initials = session.initials
      AND session.role <> 'guest'
    WHERE session.sugarhouse = ${sugarhouse} AND session.ends_at > ${now} ORDER BY session.seen_at DESC`;
  return rows.map(sessionFrom);
}

/** Saves a session; with `guestHash` one of a guest link. */
export async function saveSession(
  { sql, sugarhouse }: SugarhouseReader,
  session: Omit<Session, 'sugarhouse'> & { readonly guestHash?: string | undefined },
): Promise<void> {
  await sql.run`DELETE FROM household_session WHERE ends_at <= ${session.beganAt}`;
  await sql.run`INSERT INTO household_session
    (token_hash, sugarhouse, initials, role, began_at, seen_at, ends_at, device, guest_hash)
    VALUES (${session.tokenHash}, ${sugarhouse}, ${session.initials}, ${session.role}, ${session.beganAt},
      ${session.seenAt}, ${session.endsAt}, ${session.device}, ${session.guestHash ?? null})`;
}

/** Saves when a session was last used. */
export async function saveLastSeen(
  { sql, sugarhouse }: SugarhouseReader,
  tokenHash: string,
  at: string,
): Promise<void> {
  await sql.run`UPDATE household_session SET seen_at = ${at} WHERE sugarhouse = ${sugarhouse} AND token_hash = ${tokenHash}`;
}

/** Deletes a session. */
export async function endSession({ sql, sugarhouse }: SugarhouseReader, tokenHash: string): Promise<void> {
  await sql.run`DELETE FROM household_session WHERE sugarhouse = ${sugarhouse} AND token_hash = ${tokenHash}`;
}

/** Ends a person's sessions except `spared`. */
export async function endSessionsOf(
  { sql, sugarhouse }: SugarhouseReader,
  initials: string,
  spared = '',
): Promise<void> {
  await sql.run`DELETE FROM household_session
    WHERE sugarhouse = ${sugarhouse} AND initials = ${initials} AND role <> 'guest' AND token_hash <> ${spared}`;
}

export interface Key {
  readonly sugarhouse: string;
  readonly tokenHash: string;
  readonly name: string;
  readonly role: Role;
  readonly madeAt: string;
  readonly endedAt: string | undefined;
}

/**
 * An API key that has not ended. `namedAsPerson`: older versions let a key have the name of a person's initials, in any
 * case.
 */
export async function findKey(
  sql: Sql,
  tokenHash: string,
): Promise<(Found<Key> & { readonly namedAsPerson: boolean }) | undefined> {
  const row = await sql.row<
    KeyColumns & HeadColumns & { person_count: number | string }
  >`SELECT household_key.*, head.entries, head.frontier,
      (SELECT COUNT(*) FROM household_person AS person WHERE person.sugarhouse = household_key.sugarhouse
        AND LOWER(person.initials) = LOWER(household_key.name)) AS person_count
    FROM household_key JOIN record_head AS head ON head.id = 1
    WHERE token_hash = ${tokenHash} AND ended_at IS NULL`;
  return row && { ...keyFrom(row), bookState: stateOf(row), namedAsPerson: Number(row.person_count) > 0 };
}

/** The sugarhouse's API keys, ended ones too, oldest first. */
export async function keysOf({ sql, sugarhouse }: SugarhouseReader): Promise<Key[]> {
  const rows = await sql.rows<KeyColumns>`SELECT * FROM household_key WHERE sugarhouse = ${sugarhouse}
    ORDER BY made_at, name`;
  return rows.map(keyFrom);
}

/** Saves an API key by the hash of its secret. */
export async function saveKey(
  { sql, sugarhouse }: SugarhouseReader,
  key: Omit<Key, 'endedAt' | 'sugarhouse'>,
): Promise<void> {
  await sql.run`INSERT INTO household_key (token_hash, sugarhouse, name, role, made_at)
    VALUES (${key.tokenHash}, ${sugarhouse}, ${key.name}, ${key.role}, ${key.madeAt})`;
}

/** Ends the API key of this name, if it has not ended. */
export async function endKey({ sql, sugarhouse }: SugarhouseReader, name: string, at: string): Promise<void> {
  await sql.run`UPDATE household_key SET ended_at = ${at}
    WHERE sugarhouse = ${sugarhouse} AND name = ${name} AND ended_at IS NULL`;
}

export interface GuestLink {
  readonly sugarhouse: string;
  readonly tokenHash: string;
  readonly name: string;
  readonly madeBy: string;
  readonly madeAt: string;
  readonly endsAt: string;
  readonly endedAt: string | undefined;
  /** On how many devices it was opened. */
  readonly used: number;
}

/** The guest link with this token hash, of any sugarhouse; undefined where there is none. */
export async function findGuestLink(sql: Sql, tokenHash: string): Promise<GuestLink | undefined> {
  const row = await sql.row<GuestColumns>`SELECT * FROM household_guest WHERE token_hash = ${tokenHash}`;
  return row && guestFrom(row);
}

/** The sugarhouse's guest links, newest first. */
export async function guestLinksOf({ sql, sugarhouse }: SugarhouseReader): Promise<GuestLink[]> {
  const rows = await sql.rows<GuestColumns>`SELECT * FROM household_guest WHERE sugarhouse = ${sugarhouse}
    ORDER BY made_at DESC, name`;
  return rows.map(guestFrom);
}

/** Saves a guest link by the hash of its token. */
export async function saveGuestLink(
  { sql, sugarhouse }: SugarhouseReader,
  link: Omit<GuestLink, 'endedAt' | 'used' | 'sugarhouse'>,
): Promise<void> {
  await sql.run`INSERT INTO household_guest (token_hash, sugarhouse, name, made_by, made_at, ends_at, used)
    VALUES (${link.tokenHash}, ${sugarhouse}, ${link.name}, ${link.madeBy}, ${link.madeAt}, ${link.endsAt}, 0)`;
}

/** Counts one more use of a guest link. */
export async function countGuestUse({ sql, sugarhouse }: SugarhouseReader, tokenHash: string): Promise<void> {
  await sql.run`UPDATE household_guest SET used = used + 1
    WHERE sugarhouse = ${sugarhouse} AND token_hash = ${tokenHash}`;
}

/** Revokes a link: its sessions end with it. */
export async function endGuestLink(
  { sql, sugarhouse }: SugarhouseReader,
  tokenHash: string,
  at: string,
): Promise<void> {
  await sql.run`UPDATE household_guest SET ended_at = ${at}
    WHERE sugarhouse = ${sugarhouse} AND token_hash = ${tokenHash} AND ended_at IS NULL`;
  await sql.run`DELETE FROM household_session WHERE sugarhouse = ${sugarhouse} AND guest_hash = ${tokenHash}`;
}

interface HeadColumns {
  entries: number | string;
  frontier: string;
}

/** The number of entries and the Merkle frontier, which differ for any two states of a log. */
const stateOf = ({ entries, frontier }: HeadColumns): string => `${entries} ${frontier}`;

interface SessionColumns {
  sugarhouse: string;
  token_hash: string;
  initials: string;
  role: Role;
  role_today?: Role | null;
  person_ended?: string | null;
  guest_ended?: string | null;
  guest_hash: string | null;
  began_at: string;
  seen_at: string;
  ends_at: string;
  device: string;
}
interface KeyColumns {
  sugarhouse: string;
  token_hash: string;
  name: string;
  role: Role;
  made_at: string;
  ended_at: string | null;
}
interface GuestColumns {
  sugarhouse: string;
  token_hash: string;
  name: string;
  made_by: string;
  made_at: string;
  ends_at: string;
  ended_at: string | null;
  used: number;
}

const sessionFrom = (row: SessionColumns): Session => ({
  sugarhouse: row.sugarhouse,
  tokenHash: row.token_hash,
  initials: row.initials,
  role: row.role_today ?? row.role,
  beganAt: row.began_at,
  seenAt: row.seen_at,
  endsAt: row.ends_at,
  device: row.device,
});
const keyFrom = (row: KeyColumns): Key => ({
  sugarhouse: row.sugarhouse,
  tokenHash: row.token_hash,
  name: row.name,
  role: row.role,
  madeAt: row.made_at,
  endedAt: row.ended_at ?? undefined,
});
const guestFrom = (row: GuestColumns): GuestLink => ({
  sugarhouse: row.sugarhouse,
  tokenHash: row.token_hash,
  name: row.name,
  madeBy: row.made_by,
  madeAt: row.made_at,
  endsAt: row.ends_at,
  endedAt: row.ended_at ?? undefined,
  used: Number(row.used),
});
