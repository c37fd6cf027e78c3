/**
 * A jar's own code: seven characters and a check that catches any one wrong character and any two neighbours swapped
 * (ISO/IEC 7064 MOD 37-2), in an alphabet without I, L, O and U, which are misread on a sticky jar.
 */

/** Digits and A–Z without I, L, O, U: 32 characters, all in QR's alphanumeric mode. */
export const jarAlphabet = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/** Characters before the check. */
const bodyLength = 7;

/**
 * A code from the first seven of the given bytes, five bits of each; undefined when its check letter would fall outside
 * the alphabet: the caller then supplies other bytes. Throws when there are fewer than seven.
 */
export function jarCodeFrom(bytes: Uint8Array): string | undefined {
  if (bytes.length < bodyLength) throw new RangeError(`a jar code needs ${bodyLength} bytes, not ${bytes.length}`);
  let body = '';
  for (const byte of bytes.subarray(0, bodyLength)) body += jarAlphabet.charAt(byte & 31);
  const check = mod37Check(body);
  return check !== undefined && jarAlphabet.includes(check) ? body + check : undefined;
}

/** Formats a jar code for print: `K7QM3XWT` → `K7QM-3XWT`. */
export function printedJarCode(code: string): string {
  return `${code.slice(0, 4)}-${code.slice(4)}`;
}

/**
 * Parses a typed code: any case, dashes and spaces ignored, I and L read as 1, O as 0. Undefined when its check fails.
 */
export function readJarCode(text: string): string | undefined {
  const letters = text
    .toUpperCase()
    .replace(/[\s\p{Pd}−_]/gu, '')
    .replace(/[IL]/g, '1')
    .replace(/O/g, '0');
  if (letters.length !== bodyLength + 1) return undefined;
  if ([...letters].some((letter) => !jarAlphabet.includes(letter))) return undefined;
  return mod37Check(letters.slice(0, -1)) === letters.at(-1) ? letters : undefined;
}

/**
 * The check character of ISO/IEC 7064 MOD 37-2 over digits and capitals, one of 0–9, A–Z, *; undefined when the text
 * contains anything else. Vectors: G123498654321 → H, A999915000001 → M.
 */
export function mod37Check(text: string): string | undefined {
  let sum = 0;
  for (const letter of text) {
    const value = mod37Letters.indexOf(letter);
    if (value < 0 || letter === '*') return undefined;
    sum = ((sum + value) * 2) % 37;
  }
  return mod37Letters.charAt((38 - sum) % 37);
}

const mod37Letters = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*';

/**
 * Whether a trade item number has 8, 12, 13 or 14 digits and a valid check digit: weights 3, 1 from the right (GS1
 * General Specifications).
 */
export function isGtin(text: string): boolean {
  if (!/^(?:\d{8}|\d{12,14})$/.test(text)) return false;
  const digits = [...text].reverse().map(Number);
  const sum = digits.reduce((total, digit, place) => total + digit * (place % 2 === 0 ? 1 : 3), 0);
  return sum % 10 === 0;
}
