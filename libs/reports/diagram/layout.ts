import { placeAcross } from './diagram-across.js';
import { placeDown } from './diagram-down.js';
import type { Taper, TaperBand, TaperLayout, TaperShape } from './shape.js';

/**
 * Lays a taper out `lengthPt` long (across, small) or, for `down`, `lengthPt` wide and as long as its words need.
 * `boldness` widens the line alone, for a drawing with a page to itself.
 */
export function layTaper(taper: Taper, shape: TaperShape, lengthPt: number, boldness = 1): TaperLayout {
  const places = shape === 'down' ? placeDown(taper, lengthPt) : placeAcross(taper, shape, lengthPt, boldness);
  const bands = taper.links.flatMap((link): TaperBand[] => {
    const from = places.ends.get(link.from);
    const to = places.ends.get(link.to);
    if (!from || !to) return [];
    // A branch begins as wide as the line it leaves, as a bough does, and ends as wide as what it carries.
    return [{ from, to: { ...to, halfPt: Math.min(to.halfPt, from.halfPt) }, happened: link.happened }];
  });
  const knots = taper.nodes.flatMap((node) => {
    const end = places.ends.get(node.id);
    if (!end || node.knots.length === 0) return [];
    return [{ xPt: end.xPt, yPt: end.yPt, stops: node.knots.some((knot) => knot.stops), happened: node.happened }];
  });
  return { shape, bands, knots, ...places.page, words: places.words, turn: places.turn };
}
