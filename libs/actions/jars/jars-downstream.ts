import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { codesByMovement, jarsOfSome, packsAtOnce } from '#libs/store/queries/trace.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';

export interface TracedJar {
  readonly code: string;
  readonly pack: string;
  readonly n: number;
  /** Dispatches that name this jar. */
  readonly dispatches: readonly string[];
}

/**
 * Every jar downstream of a lot, pack by pack, with the dispatches that name it; streamed, for there may be a million.
 */
export async function* jarsDownstream(reader: SugarhouseReader, packs: readonly string[]): AsyncGenerator<TracedJar> {
  for (let first = 0; first < packs.length; first += 500) {
    const batch = packs.slice(first, first + 500);
    const byJar = new Map<string, string[]>();
    for (const [movement, codes] of await codesByMovement(reader, batch))
      for (const code of codes) byJar.set(code, [...(byJar.get(code) ?? []), movement]);
    // Yields arrays, since yielding single jars through a second generator took as long as reading them.
    for (let n = 0; n < batch.length; n += packsAtOnce)
      for (const jar of await jarsOfSome(reader, batch.slice(n, n + packsAtOnce)))
        yield { code: printedJarCode(jar.code), pack: jar.pack, n: jar.n, dispatches: byJar.get(jar.code) ?? [] };
  }
}
