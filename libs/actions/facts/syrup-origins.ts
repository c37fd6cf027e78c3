import type { ReceiptBody } from '#libs/records/kinds/receipt.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { flowsInto, syrupSources } from '#libs/store/queries/trace.js';
import { trueBrix } from '#libs/syrup/science/corrected.js';

/** °Bx; sweeter than any sap or membrane concentrate: common practice, no source. */
const syrupFromBrix = 40;

/** Whether what was bought is syrup by its density; undefined where none is recorded. */
export function isBoughtSyrup(receipt: ReceiptBody | undefined): boolean | undefined {
  const brix = receipt?.density && trueBrix(receipt.density);
  return brix === undefined ? undefined : brix >= syrupFromBrix;
}

/**
 * The lots that a pack's syrup comes from, also through packs poured: its boils and bought lots, and bought lots boiled
 * again in those boils, unless their density shows that they were sap.
 */
export async function syrupOrigins(reader: SugarhouseReader, pack: string): Promise<readonly string[]> {
  const origins = new Set<string>();
  for (const { code, kind } of await syrupSources(reader, pack)) {
    origins.add(code);
    if (kind !== 'boil') continue;
    for (const { from } of await flowsInto(reader, code)) {
      const receipt = await findRecord(reader, 'receipt', from);
      if (receipt && isBoughtSyrup(receipt.body) !== false) origins.add(from);
    }
  }
  return [...origins];
}
