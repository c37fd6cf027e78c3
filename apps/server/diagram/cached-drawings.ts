import { diagramSvg } from '#libs/reports/diagram/lot-diagram.js';
import type { DiagramShape, LotDiagram } from '#libs/reports/diagram/shape.js';
import type { Rendered } from '#pages/parts/drawing.js';
import { LotDrawing } from '#pages/parts/lot-drawing.js';
import { LeastRecentlyUsed } from '../http/least-recently-used.js';
import { renderPart } from '../http/render.js';

/** About five kilobytes each, and ten each of a lot's own. */
const maxCached = 1000;
/** Keyed by content and shape. */
const drawings = new LeastRecentlyUsed<string>(maxCached);
/** Keyed by content. */
const lotDrawings = new LeastRecentlyUsed<Rendered>(maxCached);

/**
 * A diagram as SVG, cached by its content: all jars of a pack share one, and drawing it takes longer than reading its
 * data.
 */
export const cachedDrawing = (diagram: LotDiagram, shape: DiagramShape): string =>
  cached(drawings, `${shape} ${JSON.stringify(diagram)}`, () => diagramSvg(diagram, shape));

/**
 * The drawing of a lot's own page for a wide and for a narrow screen, `lengthPt` long where it is wide. It is two thirds
 * of the page, so it is rendered and encoded once.
 */
export const cachedLotDrawing = (diagram: LotDiagram, lengthPt: number): Rendered =>
  cached(lotDrawings, `${lengthPt} ${JSON.stringify(diagram)}`, () =>
    renderPart(LotDrawing({ across: diagramSvg(diagram, 'across', lengthPt), down: diagramSvg(diagram, 'down') })),
  );

/** The cached value of the key; where there is none, it is made and cached. */
function cached<T extends object | string>(cache: LeastRecentlyUsed<T>, key: string, make: () => T): T {
  const found = cache.get(key);
  if (found !== undefined) return found;
  const value = make();
  cache.set(key, value);
  return value;
}
