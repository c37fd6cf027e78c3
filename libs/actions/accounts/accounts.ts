import type { Book } from '#libs/store/book.js';
import {
  endPerson as endPersonIn,
  findPerson,
  isClaimed,
  savePassword,
  savePerson,
  peopleOf,
  type Role,
  roles,
} from '#libs/store/household/household.js';
import { endKey as endKeyIn, endSessionsOf, saveKey, keysOf } from '#libs/store/household/household-tokens.js';
import { home } from '#libs/store/household/houses.js';
import { choice, initials as initialsRead } from '../record/fields.js';
import { hashPassword, readPassword } from './passwords.js';
import { type Fault, type Refusal, invalid, refused, unknown } from '../record/problem.js';
import { hashOfToken, newToken } from './tokens.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Accounts belong to the household tables, not to the record: nothing here appends to the log. */

export interface NewPerson {
  readonly initials: string;
  readonly name?: string | undefined;
  readonly role: string;
  /** Without a password the person is listed but can't sign in yet. */
  readonly password?: string | undefined;
  /** Adds the first owner; only while the book has none. */
  readonly first?: boolean | undefined;
}

/** Adds a person, or changes the role, name or password of an existing one. */
export async function addPerson(
  book: Book,
  sugarhouse: string,
  input: NewPerson,
): Promise<{ readonly initials: string; readonly role: Role } | Refusal> {
  const read = readPerson(input);
  if ('problem' in read) return read;
  if (read.role === 'packer' && sugarhouse !== home) return packerAtHome;
  const password = input.password === undefined ? undefined : await hashPassword(input.password);
  return book.writeHousehold(async (sql) => {
    if (input.first && (await isClaimed({ sql, sugarhouse })))
      return refused('claimed', 'This book already has an owner: sign in.');
    const existing = await findPerson({ sql, sugarhouse }, read.initials);
    if (!existing && (await keysOf({ sql, sugarhouse })).some(({ name }) => isSameSigner(name, read.initials)))
      return refused(
        'key-initials',
        `${read.initials} is the name of a key, which signs with it: choose other initials.`,
      );
    if (existing?.role === 'owner' && read.role !== 'owner' && (await isLastOwner({ sql, sugarhouse }, read.initials)))
      return lastOwner(read.initials);
    await savePerson({ sql, sugarhouse }, { ...read, name: read.name || existing?.name || '', password });
    if (existing && (password !== undefined || existing.role !== read.role))
      await endSessionsOf({ sql, sugarhouse }, read.initials);
    return { initials: read.initials, role: read.role };
  });
}

/** Reports all faults at once; the password is also checked against the person's initials and name. */
export function readPerson(input: NewPerson): { initials: string; name: string; role: Role } | Refusal {
  const by = initialsRead(input.initials.trim(), neutralParseOptions);
  const role = choice(...roles)(input.role.trim(), neutralParseOptions);
  const name = (input.name ?? '').trim().slice(0, 200);
  const password = input.password === undefined ? undefined : readPassword(input.password, [input.initials, name]);
  const faults: Fault[] = [
    ...(by.mismatch ? [{ field: 'initials', ...by.mismatch }] : []),
    ...(role.mismatch ? [{ field: 'role', ...role.mismatch }] : []),
    ...(password?.mismatch ? [{ field: 'password', ...password.mismatch }] : []),
  ];
  if (by.mismatch || role.mismatch || faults.length > 0) return { problem: { kind: 'invalid', faults } };
  return { initials: by.value, name, role: role.value };
}

/** A person's own new password, or one that the owner sets for them. Their other sessions end. */
export async function changePassword(
  book: Book,
  sugarhouse: string,
  input: { readonly initials: string; readonly password: string; readonly sparedSession?: string | undefined },
): Promise<{ readonly initials: string } | Refusal> {
  const read = readPassword(input.password, [input.initials]);
  if (read.mismatch) return { problem: { kind: 'invalid', faults: [{ field: 'password', ...read.mismatch }] } };
  const hashed = await hashPassword(read.value);
  return book.writeHousehold(async (sql) => {
    if (!(await findPerson({ sql, sugarhouse }, input.initials))) return unknown('person', input.initials);
    await savePassword({ sql, sugarhouse }, input.initials, hashed);
    await endSessionsOf({ sql, sugarhouse }, input.initials, input.sparedSession);
    return { initials: input.initials };
  });
}

/** Ends a person's access; what they recorded stays under their initials. */
export function endPerson(
  book: Book,
  sugarhouse: string,
  initials: string,
  now: Date,
): Promise<{ readonly initials: string } | Refusal> {
  return book.writeHousehold(async (sql) => {
    const existing = await findPerson({ sql, sugarhouse }, initials);
    if (!existing) return unknown('person', initials);
    if (existing.role === 'owner' && (await isLastOwner({ sql, sugarhouse }, initials))) return lastOwner(initials);
    await endPersonIn({ sql, sugarhouse }, initials, now.toISOString());
    return { initials };
  });
}

/** Adds an API key for a script. The key is shown once; only its hash is stored. */
export function addKey(
  book: Book,
  sugarhouse: string,
  input: { readonly name: string; readonly role: string },
  now: Date,
): Promise<{ readonly name: string; readonly role: Role; readonly key: string } | Refusal> {
  return book.writeHousehold(async (sql) => {
    const name = initialsRead(input.name.trim(), neutralParseOptions);
    const role = choice(...roles)(input.role.trim(), neutralParseOptions);
    if (name.mismatch) return invalid('name', 'a name of at most 40 letters', name.mismatch.got);
    if (role.mismatch) return invalid('role', role.mismatch.expected, role.mismatch.got);
    if (role.value === 'packer' && sugarhouse !== home) return packerAtHome;
    if ((await keysOf({ sql, sugarhouse })).some((each) => each.name === name.value && each.endedAt === undefined))
      return refused('key-there', `There is a key ${name.value} already: end it first, or choose another name.`);
    if ((await peopleOf({ sql, sugarhouse })).some(({ initials }) => isSameSigner(initials, name.value)))
      return refused('key-initials', `${name.value} are the initials of a person: choose another name for the key.`);
    const key = newToken();
    const saved = { tokenHash: hashOfToken(key), name: name.value, role: role.value, madeAt: now.toISOString() };
    await saveKey({ sql, sugarhouse }, saved);
    return { name: name.value, role: role.value, key };
  });
}

/** Ends an API key as of `now`; a refusal where the sugarhouse has no such key. */
export function endKey(
  book: Book,
  sugarhouse: string,
  name: string,
  now: Date,
): Promise<{ readonly name: string } | Refusal> {
  return book.writeHousehold(async (sql) => {
    const existing = (await keysOf({ sql, sugarhouse })).some(
      (each) => each.name === name && each.endedAt === undefined,
    );
    if (!existing) return unknown('key', name);
    await endKeyIn({ sql, sugarhouse }, name, now.toISOString());
    return { name };
  });
}

/** Whether a key has the same name as a person's initials: an entry is signed with either, so they have to differ. */
const isSameSigner = (one: string, other: string): boolean => one.toLowerCase() === other.toLowerCase();

async function isLastOwner(reader: SugarhouseReader, initials: string): Promise<boolean> {
  const owners = (await peopleOf(reader)).filter((each) => each.role === 'owner' && !each.endedAt);
  return owners.every((each) => each.initials === initials);
}

const packerAtHome = refused(
  'packer-at-home',
  'A packer belongs to the first sugarhouse of the book, not to a member.',
);

const lastOwner = (initials: string): Refusal =>
  refused('last-owner', `${initials} is the only owner: make somebody else an owner first.`);

/** Parsing initials and roles doesn't depend on zone or units. */
const neutralParseOptions = { zone: 'UTC', volumes: { bareGallons: 'US' as const }, now: new Date(0) };
