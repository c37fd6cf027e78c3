import { randomInt, timingSafeEqual, createHash } from 'node:crypto';
import { jarAlphabet } from '#libs/syrup/jar-codes.js';

/** The one-time word that the server prints, so that nobody else on the network claims a new book first. */
export interface FirstWord {
  /** The word that opens the set-up now; a new one where the last has run out. */
  current(now: Date): string;
  /** Whether this is the word. Ten wrong tries, and another word is printed. */
  fits(typed: string, now: Date): boolean;
  /** Used: it opens nothing any more. */
  spend(): void;
}

const lastsMs = 60 * 60_000;
const wrongTriesTaken = 10;

/** `say` is told each new word, to print it where only the owner of the machine can read it. */
export function firstWord(say: (word: string) => void): FirstWord {
  let word = '';
  let endsAt = 0;
  let wrong = 0;
  const renew = (now: Date): void => {
    word = Array.from({ length: 10 }, () => jarAlphabet.charAt(randomInt(32))).join('');
    endsAt = now.getTime() + lastsMs;
    wrong = 0;
    say(`${word.slice(0, 5)}-${word.slice(5)}`);
  };
  const current = (now: Date): string => {
    if (word === '' || now.getTime() >= endsAt) renew(now);
    return word;
  };
  return {
    current,
    fits(typed, now) {
      const letters = typed.toUpperCase().replace(/[\s-]/g, '').replace(/[IL]/g, '1').replace(/O/g, '0');
      if (timingSafeEqual(digest(letters), digest(current(now)))) return true;
      if (++wrong >= wrongTriesTaken) renew(now);
      return false;
    },
    spend() {
      word = '';
    },
  };
}

const digest = (text: string): Buffer => createHash('sha256').update(text).digest();
