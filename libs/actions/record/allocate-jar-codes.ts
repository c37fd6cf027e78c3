import { randomBytes } from 'node:crypto';
import type { AllocatedJars } from '#libs/records/entry.js';
import { jarCodeOf } from '#libs/store/log/jar-seeds.js';
import { codesTaken, highestJar } from '#libs/store/queries/lots.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * Assigns codes to jars that have none yet. An assigned code stays, also where the count is corrected downwards; a
 * generated code that another jar already has is skipped, and the entry says so.
 */
export async function allocateJarCodes(
  reader: SugarhouseReader,
  pack: string,
  jars: number,
  mayHaveCodes: boolean,
): Promise<AllocatedJars | undefined> {
  const { sql } = reader;
  const highest = mayHaveCodes ? await highestJar(reader, pack) : 0;
  if (jars <= highest) return undefined;
  const seed = randomBytes(32).toString('hex');
  const passedOver = new Map<number, number>();
  const assigned = new Set<string>();
  let open = Array.from({ length: jars - highest }, (_, n) => highest + 1 + n);
  while (open.length > 0) {
    const drawn = open.map((n) => ({ n, code: jarCodeOf(seed, n, passedOver.get(n) ?? 0) }));
    const taken = await codesTaken(
      sql,
      drawn.map((each) => each.code),
    );
    open = [];
    for (const { n, code } of drawn) {
      if (taken.has(code) || assigned.has(code)) {
        passedOver.set(n, (passedOver.get(n) ?? 0) + 1);
        open.push(n);
      } else assigned.add(code);
    }
  }
  return { pack, from: highest + 1, count: jars - highest, seed, skips: [...passedOver] };
}
