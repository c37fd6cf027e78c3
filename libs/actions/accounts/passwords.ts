import { hash, verify } from '@node-rs/argon2';
import type { Parsed } from '#libs/syrup/quantities/quantities.js';

/** argon2id; memory in KiB, passes, lanes: the least that OWASP's password storage cheat sheet advises. */
const cost = { memoryCost: 19_456, timeCost: 2, parallelism: 1 } as const;

const minLength = 8;
const maxLength = 256;

/**
 * A password as its owner chose it: at least eight characters of any kind, no composition rules (OWASP ASVS 5.0, 6.2).
 * Commonly guessed passwords and the person's own name are refused.
 */
export function readPassword(typed: string, guessable: readonly string[] = []): Parsed<string> {
  const password = typed.normalize('NFKC');
  const letters = [...password].length;
  if (letters < minLength || letters > maxLength)
    return {
      mismatch: {
        expected: `a password of ${minLength} characters or more (15 or more are better)`,
        got: `${letters}`,
      },
    };
  if (isCommonPassword(password, guessable))
    return { mismatch: { expected: 'a password that is not among the most common ones', got: 'one of them' } };
  return { value: password };
}

/** The Argon2 hash of a password, normalised to Unicode NFKC first so that any keyboard gives the same hash. */
export const hashPassword = (password: string): Promise<string> => hash(password.normalize('NFKC'), cost);

/** Takes equally long for an unknown person as for a known one. */
export async function verifyPassword(saved: string | undefined, typed: string): Promise<boolean> {
  // Longer than any accepted password, so no memory is spent on hashing it.
  if (typed.length > maxLength * 4) return false;
  const fits = await verify(saved ?? (await placeholderHash()), typed.normalize('NFKC'));
  return fits && saved !== undefined;
}

let placeholderHashOnce: Promise<string> | undefined;
const placeholderHash = (): Promise<string> => (placeholderHashOnce ??= hashPassword('nobody has this password'));

function isCommonPassword(password: string, guessable: readonly string[]): boolean {
  const plain = password.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
  const bare = plain.replace(/^\d+|\d+$/g, '');
  const own = guessable
    .map((each) => each.toLowerCase().replace(/[^\p{L}\p{N}]/gu, ''))
    .filter((each) => each.length > 2);
  return (
    /^(.{1,4})\1+.?$/u.test(plain) ||
    sequences.some((row) => row.includes(plain) || [...row].reverse().join('').includes(plain)) ||
    commonPasswords.has(plain) ||
    commonPasswords.has(bare) ||
    own.includes(bare)
  );
}

/** Keyboard rows and the alphabet. */
const sequences = [
  '01234567890123456789',
  'abcdefghijklmnopqrstuvwxyz',
  'qwertyuiopasdfghjklzxcvbnm',
  '1qaz2wsx3edc4rfv',
];

/** From memory of published lists of leaked passwords, those of eight letters and more or with digits added. */
const commonPasswords: ReadonlySet<string> = new Set(
  `password passwort passw0rd p4ssw0rd letmein welcome iloveyou sunshine princess football baseball basketball superman
  batman trustno1 dragon monkey master shadow michael jennifer charlie computer internet whatever starwars startrek
  administrator admin administrateur secret secret123 changeme default guest login access abc123 qwerty qwerty123
  azerty qwertz asdfghjkl zxcvbnm 1q2w3e4r 1q2w3e4r5t q1w2e3r4 q1w2e3r4t5 password1 password123 motdepasse
  canada vermont quebec maple mapletree maplesyrup syrup sugarhouse sugarbush sugaring boilbook
  summer winter spring autumn january february march april monday`
    .split(/\s+/)
    .filter(Boolean),
);
