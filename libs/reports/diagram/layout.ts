import { placeAcross } from './diagram-across.js';
import { placeDown } from './diagram-down.js';
import type { LotDiagram, DiagramBand, DiagramLayout, DiagramShape } from './shape.js';

/**
 * Lays out a lot diagram `lengthPt` long (across, small) or, for `down`, `lengthPt` wide and as long as its text needs.
 * `boldness` widens the line alone, for a drawing with a page to itself.
 */
export function layoutDiagram(diagram: LotDiagram, shape: DiagramShape, lengthPt: number, boldness = 1): DiagramLayout {
  const places = shape === 'down' ? placeDown(diagram, lengthPt) : placeAcross(diagram, shape, lengthPt, boldness);
  const bands = diagram.links.flatMap((link): DiagramBand[] => {
    const from = places.ends.get(link.from);
    const to = places.ends.get(link.to);
    if (!from || !to) return [];
    // A branch begins as wide as the line it leaves, and ends as wide as the volume it carries.
    return [{ from, to: { ...to, halfPt: Math.min(to.halfPt, from.halfPt) }, happened: link.happened }];
  });
  const dots = diagram.nodes.flatMap((node) => {
    const end = places.ends.get(node.id);
    if (!end || node.dots.length === 0) return [];
    return [{ xPt: end.xPt, yPt: end.yPt, stops: node.dots.some((dot) => dot.hasStop), happened: node.happened }];
  });
  return { shape, bands, dots, ...places.page, texts: places.texts, turn: places.turn };
}
