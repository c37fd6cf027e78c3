import type { PackOfSameSyrup } from '#libs/reports/recall/recall.js';
import { flowsOutOfEach, lotsNamed } from '#libs/store/connection/batch-queries.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { packAccounts } from '#libs/store/queries/pack-accounts.js';

/**
 * The other packs filled from the boils, bought syrup or packs that these were filled from, by code. A cause that was in
 * the syrup, such as an off flavour or an allergen, is in their jars too; whether it was is for a person to decide.
 */
export async function packsOfSameSyrup(
  reader: SugarhouseReader,
  packs: readonly string[],
): Promise<readonly PackOfSameSyrup[]> {
  const listed = new Set(packs);
  const accounts = await packAccounts(reader, packs);
  const sources = new Set([...accounts.values()].flatMap(({ into }) => into.map(({ from }) => from)));
  const flows = [...(await flowsOutOfEach(reader, [...sources])).values()].flat();
  const found = flows.map(({ into }) => into).filter((code) => !listed.has(code));
  const lots = await lotsNamed(reader, [...new Set(found)]);
  return [...lots.values()]
    .filter(({ kind, jars }) => kind === 'pack' && jars !== undefined)
    .map((lot) => ({
      lot: lot.code,
      packedAt: lot.at,
      sources: [...new Set(flows.filter(({ into }) => into === lot.code).map(({ from }) => from))].sort(),
      jarsMade: lot.jars ?? 0,
      state: lot.state,
    }))
    .sort((a, b) => (a.lot < b.lot ? -1 : 1));
}
