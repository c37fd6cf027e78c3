import { diagramSvg } from '#libs/reports/diagram/lot-diagram.js';
import type { DiagramShape, LotDiagram } from '#libs/reports/diagram/shape.js';

/** About five kilobytes each. */
const mostCached = 1000;
/** Keyed by content and shape; the least recently used first. */
const drawings = new Map<string, string>();

/**
 * A diagram as SVG, cached by its content: all jars of a pack share one, and drawing it takes longer than reading its
 * data.
 */
export function cachedDrawing(diagram: LotDiagram, shape: DiagramShape, lengthPt?: number): string {
  const key = `${shape} ${lengthPt ?? ''} ${JSON.stringify(diagram)}`;
  const svg = drawings.get(key) ?? diagramSvg(diagram, shape, lengthPt);
  drawings.delete(key);
  drawings.set(key, svg);
  const [oldest] = drawings.keys();
  if (drawings.size > mostCached && oldest !== undefined) drawings.delete(oldest);
  return svg;
}
