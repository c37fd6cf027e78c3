import type { Book } from '#libs/store/book.js';
import { findPerson, peopleOf, type Person, type Role } from '#libs/store/household/household.js';
import { countGuestUse, findGuestLink, saveGuestLink, saveSession } from '#libs/store/household/household-tokens.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { addPerson, type NewPerson } from './accounts.js';
import { verifyPassword } from './passwords.js';
import { type Refusal, invalid, refused } from '../record/problem.js';
import { isNoSpace } from '#libs/store/connection/no-space.js';
import { deviceOfToken, knownDeviceToken, newDevice } from './known-devices.js';
import { keepSessionInMemory } from './memory-sessions.js';
import { countAttempt, forgetAttempts, attemptCounters } from './sign-in-attempts.js';
import { hashOfToken, newToken } from './tokens.js';
import { type SugarhouseReader, sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export interface SignedIn {
  readonly initials: string;
  readonly role: Role;
  /** Sent as a cookie; only its hash is stored. */
  readonly token: string;
  readonly endsAt: Date;
  /** Sent as a cookie: marks this device as one where the person has signed in before (`known-devices.ts`). */
  readonly known: string;
}

const dayMs = 86_400_000;
const sessionDays = 30;

/**
 * Signs a person in. Each wrong attempt after the third doubles the wait, up to about a minute; wrong attempts from
 * elsewhere don't count, so that nobody can lock the owner out (see `attemptCounters`).
 */
export async function signIn(
  book: Book,
  sugarhouse: string,
  input: {
    readonly initials: string;
    readonly password: string;
    readonly device: string;
    /** The network address of the attempt. */
    readonly address: string;
    readonly known?: string | undefined;
  },
  now: Date,
): Promise<SignedIn | (Refusal & { readonly waitSeconds?: number })> {
  const person = await findActivePerson(sugarhouseReader(book.read, sugarhouse), input.initials);
  const initials = person?.initials ?? '';
  const device = await deviceOfToken(book, sugarhouse, person, input.known);
  const counters = attemptCounters(sugarhouse, input, device);
  const waitSeconds = countAttempt(book, counters, now);
  if (waitSeconds > 0) return { ...signInRefused(`Wait ${waitSeconds} s, then try again.`), waitSeconds };
  if (!(await verifyPassword(person?.password, input.password)) || !person)
    return signInRefused('Check both, then try again.');
  forgetAttempts(book, counters);
  return {
    ...(await startSession(book, sugarhouse, { initials, device: input.device }, now)),
    role: person.role,
    known: await knownDeviceToken(book, sugarhouse, person, device ?? newDevice()),
  };
}

/** Starts a session for a person who gave a password or needs none (the owner of the practice book). */
export async function startSession(
  book: Book,
  sugarhouse: string,
  input: { readonly initials: string; readonly device: string },
  now: Date,
): Promise<Pick<SignedIn, 'initials' | 'token' | 'endsAt'>> {
  const token = newToken();
  const endsAt = new Date(now.getTime() + sessionDays * dayMs);
  // The person's current role applies, not one stored here; a session only names the person.
  const saved = newSession(token, input.initials, 'helper', now, endsAt, input.device);
  try {
    await book.writeHousehold((sql) => saveSession({ sql, sugarhouse }, saved));
  } catch (fault) {
    // On a full disk people can still read, on a new device too.
    if (!isNoSpace(fault)) throw fault;
    const person = await findPerson(sugarhouseReader(book.read, sugarhouse), input.initials);
    keepSessionInMemory(book, { ...saved, sugarhouse }, person?.password);
  }
  return { initials: input.initials, token, endsAt };
}

/** A link for somebody who only reads, such as an inspector. The token is shown once. */
export async function makeGuestLink(
  book: Book,
  sugarhouse: string,
  input: { readonly name: string; readonly days: number; readonly by: string },
  now: Date,
): Promise<{ readonly name: string; readonly token: string; readonly endsAt: Date } | Refusal> {
  const name = input.name.trim();
  if (name === '' || name.length > 80) return invalid('name', 'the name of the guest, like Inspector', `"${name}"`);
  if (!Number.isInteger(input.days) || input.days < 1 || input.days > 366)
    return invalid('days', 'a number of days from 1 to 366', `"${input.days}"`);
  const token = newToken();
  const endsAt = new Date(now.getTime() + input.days * dayMs);
  const saved = { tokenHash: hashOfToken(token), name, madeBy: input.by, madeAt: now.toISOString() };
  await book.writeHousehold((sql) => saveGuestLink({ sql, sugarhouse }, { ...saved, endsAt: endsAt.toISOString() }));
  return { name, token, endsAt };
}

/** Whether a guest link is valid; false where it has expired, was revoked or never existed. */
export async function findValidGuestLink(sql: Sql, token: string, now: Date) {
  const link = await findGuestLink(sql, hashOfToken(token));
  return link && link.endedAt === undefined && link.endsAt > now.toISOString() ? link : undefined;
}

/** Signs a guest in by a link; undefined where the link is no longer valid. */
export async function signInByGuestLink(
  book: Book,
  token: string,
  device: string,
  now: Date,
): Promise<Pick<SignedIn, 'initials' | 'role' | 'token' | 'endsAt'> | undefined> {
  const guestHash = hashOfToken(token);
  return book.writeHousehold(async (sql) => {
    const link = await findValidGuestLink(sql, token, now);
    if (!link) return undefined;
    const { sugarhouse } = link;
    const own = newToken();
    const endsAt = new Date(link.endsAt);
    await saveSession({ sql, sugarhouse }, { ...newSession(own, link.name, 'guest', now, endsAt, device), guestHash });
    await countGuestUse({ sql, sugarhouse }, guestHash);
    return { initials: link.name, role: 'guest', token: own, endsAt };
  });
}

/** Creates the first owner of a book that has none. The caller has checked the setup code. */
export async function claimBook(
  book: Book,
  sugarhouse: string,
  input: Omit<NewPerson, 'role' | 'first'>,
): Promise<{ readonly initials: string } | Refusal> {
  return addPerson(book, sugarhouse, { ...input, role: 'owner', password: input.password ?? '', first: true });
}

async function findActivePerson(reader: SugarhouseReader, typed: string): Promise<Person | undefined> {
  const initials = typed.trim();
  const person = (await findPerson(reader, initials)) ?? (await findInOtherCase(reader, initials));
  return person?.endedAt === undefined ? person : undefined;
}

/** A phone capitalises what is typed into the box. Undefined where two people's initials differ only by case. */
async function findInOtherCase(reader: SugarhouseReader, initials: string): Promise<Person | undefined> {
  const alike = (await peopleOf(reader)).filter((each) => each.initials.toUpperCase() === initials.toUpperCase());
  return alike.length === 1 ? alike[0] : alike.find((each) => each.initials === initials.toUpperCase());
}

function newSession(token: string, initials: string, role: Role, now: Date, endsAt: Date, device: string) {
  return {
    tokenHash: hashOfToken(token),
    initials,
    role,
    beganAt: now.toISOString(),
    seenAt: now.toISOString(),
    endsAt: endsAt.toISOString(),
    device: device.slice(0, 120),
  };
}

const signInRefused = (then: string): Refusal =>
  refused('sign-in', `These initials and this password do not match. ${then}`);
