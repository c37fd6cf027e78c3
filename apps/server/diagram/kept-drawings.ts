import { diagramSvg } from '#libs/reports/diagram/lot-diagram.js';
import type { DiagramShape, LotDiagram } from '#libs/reports/diagram/shape.js';

/** Some five kilobytes each. */
const mostKept = 1000;
/** By what they show and how; the least recently used first. */
const drawings = new Map<string, string>();

/**
 * A diagram as SVG, drawn once for as long as it shows the same: all jars of a pack have one, and drawing it takes
 * longer than reading what it shows.
 */
export function keptDrawing(diagram: LotDiagram, shape: DiagramShape, lengthPt?: number): string {
  const key = `${shape} ${lengthPt ?? ''} ${JSON.stringify(diagram)}`;
  const svg = drawings.get(key) ?? diagramSvg(diagram, shape, lengthPt);
  drawings.delete(key);
  drawings.set(key, svg);
  const [oldest] = drawings.keys();
  if (drawings.size > mostKept && oldest !== undefined) drawings.delete(oldest);
  return svg;
}
