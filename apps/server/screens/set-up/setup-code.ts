import { randomInt, timingSafeEqual, createHash } from 'node:crypto';
import { jarAlphabet } from '#libs/syrup/codes/jar-codes.js';

/** The setup code that the server prints, so that nobody else on the network claims a new book first. */
export interface SetupCode {
  /** The current setup code; a new one where the last has expired. */
  current(now: Date): string;
  /**
   * Whether this is the code. After ten wrong ones an address is refused for an hour. The code itself stays valid:
   * there are 32 to the tenth, and otherwise a stranger's guesses would lock out the owner.
   */
  check(typed: string, address: string, now: Date): 'fits' | 'wrong' | 'too often';
  /** Makes the code invalid after use. */
  invalidate(): void;
}

const validMs = 60 * 60_000;
const maxWrongTries = 10;
const maxAddresses = 1000;

/** `say` receives each new code, to print it where only the owner of the machine can read it. */
export function setupCode(printCode: (code: string) => void): SetupCode {
  let code = '';
  let endsAt = 0;
  const wrongTries = new Map<string, { count: number; until: number }>();
  const renew = (now: Date): void => {
    code = Array.from({ length: 10 }, () => jarAlphabet.charAt(randomInt(32))).join('');
    endsAt = now.getTime() + validMs;
    printCode(`${code.slice(0, 5)}-${code.slice(5)}`);
  };
  const current = (now: Date): string => {
    if (code === '' || now.getTime() >= endsAt) renew(now);
    return code;
  };
  return {
    current,
    check(typed, address, now) {
      const before = wrongTries.get(address);
      const count = before && before.until > now.getTime() ? before.count : 0;
      if (count >= maxWrongTries) return 'too often';
      const letters = typed.toUpperCase().replace(/[\s-]/g, '').replace(/[IL]/g, '1').replace(/O/g, '0');
      if (timingSafeEqual(digest(letters), digest(current(now)))) return 'fits';
      wrongTries.delete(address);
      wrongTries.set(address, { count: count + 1, until: now.getTime() + validMs });
      if (wrongTries.size > maxAddresses) wrongTries.delete(wrongTries.keys().next().value ?? '');
      return 'wrong';
    },
    invalidate() {
      code = '';
    },
  };
}

const digest = (text: string): Buffer => createHash('sha256').update(text).digest();
