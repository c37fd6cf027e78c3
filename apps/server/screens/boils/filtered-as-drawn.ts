import type { BoilBody } from '#libs/records/kinds/boil.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { recordsAbout } from '#libs/store/queries/lots.js';

/** Whether the boil's own record names no filter, so that its draw-offs have to be read. */
const needsDrawsRead = (boil: BoilBody | undefined): boolean =>
  boil?.syrupVolume !== undefined && !boil.restedFrom && !boil.filterTemp && boil.filterMedium === '';

/**
 * Codes of boils whose syrup was filtered as it was drawn off: reads only boils that are finished and not yet rested.
 */
export async function filteredAsDrawn(
  reader: SugarhouseReader,
  boils: readonly { readonly code: string; readonly body: BoilBody | undefined }[],
): Promise<ReadonlySet<string>> {
  const filtered = new Set<string>();
  for (const { code } of boils.filter(({ body }) => needsDrawsRead(body))) {
    const draws = await recordsAbout(reader, code, 'draw');
    if (draws.some(({ body }) => body.filterTemp ?? body.filterMedium)) filtered.add(code);
  }
  return filtered;
}
