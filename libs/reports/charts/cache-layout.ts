import type { ChartShape } from './chart-shape.js';
import type { ChartSpec } from './chart-spec.js';

/** Two seasons, each for a phone, a desktop and paper, and one besides. */
const maxCached = 8;

/**
 * The same layout, made once for the same figures and shape: a dispatch changes no reading, and to place some thousand
 * texts takes longer than to compare them. The key is all that `layOut` is given, so nothing in it can be out of date;
 * figures must be plain data, as JSON holds it.
 */
export function cacheLayout<Figures>(
  layOut: (figures: Figures, shape: ChartShape) => ChartSpec,
): (figures: Figures, shape: ChartShape) => ChartSpec {
  const cache = new Map<string, ChartSpec>();
  return (figures, shape) => {
    const key = JSON.stringify([figures, shape]);
    const spec = cache.get(key) ?? layOut(figures, shape);
    // Inserted last, so that the map's first key is the one unused for longest.
    cache.delete(key);
    cache.set(key, spec);
    const [oldest] = cache.keys();
    if (cache.size > maxCached && oldest !== undefined) cache.delete(oldest);
    return spec;
  };
}
