import { findRecord, type Lot } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';

/** What packs poured into another contain, where it was recorded that they contain anything but syrup. */
export async function loadPouredProducts(
  { sql, sugarhouse }: { readonly sql: Sql; readonly sugarhouse: string },
  packs: readonly Lot[],
): Promise<{ lot: string; product: string }[]> {
  const products: { lot: string; product: string }[] = [];
  for (const { code } of packs) {
    const product = (await findRecord({ sql, sugarhouse }, 'pack', code))?.body.product ?? '';
    if (product !== '') products.push({ lot: code, product });
  }
  return products;
}
