import { createHmac } from 'node:crypto';
import type { AllocatedJars } from '#libs/records/entry.js';
import { jarCodeFrom } from '#libs/syrup/codes/jar-codes.js';

/** The code of jar `n`, skipping its first `skips` valid codes, which other jars had. */
export function jarCodeOf(seed: string, n: number, passedOver = 0): string {
  let wellFormed = 0;
  for (let attempt = 0; attempt < 10_000; attempt++) {
    const code = drawJarCode(seed, n, attempt);
    if (code !== undefined && wellFormed++ === passedOver) return code;
  }
  throw new Error(`No code could be drawn for jar ${n}`);
}

/** The codes of a pack's jars, from its first: those drawn as they were allocated, or derived from the entry. */
export function jarCodesOf(allocated: AllocatedJars): readonly string[] {
  const known = drawn.get(allocated);
  if (known) return known;
  const passedOver = new Map(allocated.skips);
  return Array.from({ length: allocated.count }, (_, at) => {
    const n = allocated.from + at;
    return jarCodeOf(allocated.seed, n, passedOver.get(n) ?? 0);
  });
}

/** Keeps the codes that were drawn to see that no jar has them yet, until the entry is applied to the index. */
export function withDrawnCodes(allocated: AllocatedJars, codes: readonly string[]): AllocatedJars {
  drawn.set(allocated, codes);
  return allocated;
}
const drawn = new WeakMap<AllocatedJars, readonly string[]>();

/**
 * The code of jar `n` at attempt number `attempt`, or undefined where the check letter fell outside the alphabet.
 * Without the seed, which stays in the pack's entry, another jar's code cannot be guessed.
 */
function drawJarCode(seed: string, n: number, attempt: number): string | undefined {
  const bytes = createHmac('sha256', Buffer.from(seed, 'hex')).update(`${n}:${attempt}`).digest();
  return jarCodeFrom(bytes);
}
