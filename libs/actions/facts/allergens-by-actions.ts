import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { actionsNamingAllergens } from '#libs/store/queries/defoamers.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { lotsUpstream, ofKind } from '#libs/store/queries/trace.js';
import { parseAllergenAnswer } from '#libs/syrup/contents/allergens.js';

/**
 * Allergens that corrective actions on other lots name for these boils, by boil: on the boil itself, or on another pack
 * of its syrup. They are named on the label too; “none” of another pack answers nothing here.
 */
export async function loadAllergensByActions(
  reader: SugarhouseReader,
  pack: string,
  boils: readonly Lot[],
): Promise<ReadonlyMap<string, readonly string[]>> {
  const named = new Map<string, readonly string[]>();
  if (boils.length === 0) return named;
  const own = new Set(boils.map(({ code }) => code));
  for (const { lot, body } of await actionsNamingAllergens(reader)) {
    if (lot === undefined || lot === pack) continue;
    const allergens = parseAllergenAnswer(body.defoamerAllergens).named;
    if (allergens.length === 0) continue;
    for (const { code } of ofKind(await lotsUpstream(reader, lot), 'boil'))
      if (own.has(code)) named.set(code, [...(named.get(code) ?? []), ...allergens]);
  }
  return named;
}
