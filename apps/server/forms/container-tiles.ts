import type { Tile, Tiles } from '#pages/parts/field-view.js';

const kinds = ['glass jar', 'glass bottle', 'plastic jug', 'metal can', 'drum'];
const customary = ['3.4 fl oz', 'half pint', '12 fl oz', 'pint', 'quart', 'half gallon', 'gallon', '5 gal', '40 gal'];
const metric = ['100 mL', '250 mL', '375 mL', '500 mL', '540 mL', '1 L', '4 L', '20 L', '150 L'];

/** The usual containers by kind and size, in the house's units; any other is typed. */
export function containerTiles(isMetric: boolean, kind: string, size: string): Tiles {
  const tiles = (values: readonly string[], picked: string): Tile[] =>
    values.map((value) => ({ value, chosen: value === picked }));
  return { kinds: tiles(kinds, kind), sizes: tiles(isMetric ? metric : customary, size) };
}
