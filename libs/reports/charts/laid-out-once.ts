import type { ChartShape } from './chart-shape.js';
import type { ChartSpec } from './chart-spec.js';

/** Two seasons, each for a phone, a desktop and paper, and one besides. */
const maxCached = 8;

/**
 * The same layout, made once for the same figures and shape: a dispatch changes no reading, and to place some thousand
 * texts takes longer than to compare them. The key is all that `layOut` is given, so nothing in it can be out of date;
 * figures must be plain data, as JSON holds it.
 */
export function laidOutOnce<Figures>(
  layOut: (figures: Figures, shape: ChartShape) => ChartSpec,
): (figures: Figures, shape: ChartShape) => ChartSpec {
  const kept = new Map<string, ChartSpec>();
  return (figures, shape) => {
    const key = JSON.stringify([figures, shape]);
    const spec = kept.get(key) ?? layOut(figures, shape);
    // Inserted last, so that the map's first key is the one unused for longest.
    kept.delete(key);
    kept.set(key, spec);
    const [oldest] = kept.keys();
    if (kept.size > maxCached && oldest !== undefined) kept.delete(oldest);
    return spec;
  };
}
