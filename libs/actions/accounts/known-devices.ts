import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
import type { Book } from '#libs/store/book.js';
import { isNoSpace } from '#libs/store/connection/no-space.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findNote, saveNote, type Person } from '#libs/store/household/household.js';
import { newToken } from './tokens.js';

/** The random name of a device: 22 letters and digits of base64url. */
export const newDevice = (): string => randomBytes(16).toString('base64url');

/**
 * The token of a device where the person has signed in: its name, a dot, and a code that only this book can make. It
 * grants no access. Wrong attempts there are counted apart from strangers', and apart from the person's other devices.
 * A new password makes it invalid.
 */
export async function knownDeviceToken(
  book: Book,
  sugarhouse: string,
  { initials, password }: Pick<Person, 'initials' | 'password'>,
  device: string,
): Promise<string> {
  const secret =
    (await findNote(sugarhouseReader(book.read, sugarhouse), 'known-devices')) ??
    (await loadOrCreateSecret(book, sugarhouse).catch((fault: unknown) => {
      if (isNoSpace(fault)) return newToken();
      throw fault;
    }));
  const code = createHmac('sha256', secret)
    .update(JSON.stringify([initials, device, password]))
    .digest('base64url');
  return `${device}.${code}`;
}

/** The name of the device that sent this token; undefined where it isn't a valid one of this person. */
export async function deviceOfToken(
  book: Book,
  sugarhouse: string,
  person: Person | undefined,
  token: string | undefined,
): Promise<string | undefined> {
  const device = /^([\w-]{22})\.[\w-]{43}$/.exec(token ?? '')?.[1];
  if (!person || device === undefined || token === undefined) return undefined;
  const expected = await knownDeviceToken(book, sugarhouse, person, device);
  return timingSafeEqual(Buffer.from(token), Buffer.from(expected)) ? device : undefined;
}

const loadOrCreateSecret = (book: Book, sugarhouse: string): Promise<string> =>
  book.writeHousehold(async (sql) => {
    const existing = await findNote({ sql, sugarhouse }, 'known-devices');
    if (existing !== undefined) return existing;
    const secret = newToken();
    await saveNote({ sql, sugarhouse }, 'known-devices', secret);
    return secret;
  });
