import { randomBytes } from 'node:crypto';
import type { AllocatedJars } from '#libs/records/entry.js';
import { jarCodeOf, withDrawnCodes } from '#libs/store/log/jar-seeds.js';
import { codesTaken, highestJar } from '#libs/store/queries/lots.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Seeds drawn for several new packs: no jar of the book has one of their codes, and no two of them share one. */
export interface JarSeeds {
  /** A seed for a pack of so many jars, and their codes, given once; undefined where none is left. */
  take(jars: number): DrawnSeed | undefined;
  /** Whether a seed, given or not, makes this code. */
  has(code: string): boolean;
}

interface DrawnSeed {
  readonly seed: string;
  readonly codes: readonly string[];
}

interface PackJars {
  readonly pack: string;
  readonly jars: number;
  readonly mayHaveCodes: boolean;
}

/**
 * Assigns codes to jars that have none yet. An assigned code stays, also where the count is corrected downwards; a
 * generated code that another jar already has is skipped, and the entry says so.
 */
export async function allocateJarCodes(
  reader: SugarhouseReader,
  { pack, jars, mayHaveCodes }: PackJars,
  seeds: JarSeeds | undefined,
): Promise<AllocatedJars | undefined> {
  const { sql } = reader;
  const highest = mayHaveCodes ? await highestJar(reader, pack) : 0;
  if (jars <= highest) return undefined;
  const known = highest === 0 ? seeds?.take(jars) : undefined;
  if (known) return withDrawnCodes({ pack, from: 1, count: jars, seed: known.seed, skips: [] }, known.codes);
  const seed = randomBytes(32).toString('hex');
  const skips = new Map<number, number>();
  const assigned = new Set<string>();
  const codes: string[] = [];
  let unassigned = Array.from({ length: jars - highest }, (_, n) => highest + 1 + n);
  while (unassigned.length > 0) {
    const drawn = unassigned.map((n) => ({ n, code: jarCodeOf(seed, n, skips.get(n) ?? 0) }));
    const taken = await codesTaken(
      sql,
      drawn.map((each) => each.code),
    );
    unassigned = [];
    for (const { n, code } of drawn) {
      if (taken.has(code) || assigned.has(code) || seeds?.has(code)) {
        skips.set(n, (skips.get(n) ?? 0) + 1);
        unassigned.push(n);
      } else {
        assigned.add(code);
        codes[n - highest - 1] = code;
      }
    }
  }
  const allocated = { pack, from: highest + 1, count: jars - highest, seed, skips: [...skips] } as const;
  return withDrawnCodes(allocated, codes);
}

/** Their codes are all in memory and in one statement. */
const maxCodes = 5000;

/** Draws a seed for each of these packs, given their jars, and checks all codes at once; the first few thousand. */
export async function drawSeeds(reader: SugarhouseReader, packs: readonly number[]): Promise<JarSeeds> {
  const codes = new Set<string>();
  const drawn: (DrawnSeed & { readonly jars: number })[] = [];
  for (const jars of packs) {
    if (codes.size + jars > maxCodes) continue;
    const seed = randomBytes(32).toString('hex');
    const own = Array.from({ length: jars }, (_, n) => jarCodeOf(seed, n + 1, 0));
    // Two equal codes are left to the usual drawing, which skips one.
    if (new Set(own).size < jars || own.some((code) => codes.has(code))) continue;
    for (const code of own) codes.add(code);
    drawn.push({ jars, seed, codes: own });
  }
  const taken = codes.size > 0 ? await codesTaken(reader.sql, [...codes]) : new Set<string>();
  const left = new Map<number, DrawnSeed[]>();
  for (const each of drawn) {
    if (each.codes.some((code) => taken.has(code))) continue;
    left.set(each.jars, [...(left.get(each.jars) ?? []), each]);
  }
  return { take: (jars) => left.get(jars)?.pop(), has: (code) => codes.has(code) };
}
