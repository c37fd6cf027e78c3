import { hasMoved, movementsOfJar, type Movement } from '#libs/store/queries/trace.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Whether the jars of this movement, their latest, were returned and are still set apart. */
export const isSetApart = (last: Movement): boolean => last.kind === 'returned' && last.backOnShelf < last.jars;

/** How many of these jars were returned and are set apart now; `except` is the dispatch being corrected. */
export async function countSetApart(
  reader: SugarhouseReader,
  codes: readonly string[],
  { except, nowUtc }: { readonly except: string | undefined; readonly nowUtc: string },
): Promise<number> {
  let apart = 0;
  for (const code of codes) {
    const moved = (await movementsOfJar(reader, code)).filter((each) => hasMoved(each, nowUtc));
    const last = moved.filter((each) => each.id !== except).at(-1);
    if (last && isSetApart(last)) apart += 1;
  }
  return apart;
}
