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
  answer(typed: string, address: string, now: Date): 'fits' | 'wrong' | 'too often';
  /** Makes the code invalid after use. */
  spend(): void;
}

const lastsMs = 60 * 60_000;
const wrongTriesTaken = 10;
const maxAddresses = 1000;

/** `say` receives each new code, to print it where only the owner of the machine can read it. */
export function setupCode(say: (word: string) => void): SetupCode {
  let word = '';
  let endsAt = 0;
  const wrongFrom = new Map<string, { count: number; until: number }>();
  const renew = (now: Date): void => {
    word = Array.from({ length: 10 }, () => jarAlphabet.charAt(randomInt(32))).join('');
    endsAt = now.getTime() + lastsMs;
    say(`${word.slice(0, 5)}-${word.slice(5)}`);
  };
  const current = (now: Date): string => {
    if (word === '' || now.getTime() >= endsAt) renew(now);
    return word;
  };
  return {
    current,
    answer(typed, address, now) {
      const before = wrongFrom.get(address);
      const count = before && before.until > now.getTime() ? before.count : 0;
      if (count >= wrongTriesTaken) return 'too often';
      const letters = typed.toUpperCase().replace(/[\s-]/g, '').replace(/[IL]/g, '1').replace(/O/g, '0');
      if (timingSafeEqual(digest(letters), digest(current(now)))) return 'fits';
      wrongFrom.delete(address);
      wrongFrom.set(address, { count: count + 1, until: now.getTime() + lastsMs });
      if (wrongFrom.size > maxAddresses) wrongFrom.delete(wrongFrom.keys().next().value ?? '');
      return 'wrong';
    },
    spend() {
      word = '';
    },
  };
}

const digest = (text: string): Buffer => createHash('sha256').update(text).digest();
