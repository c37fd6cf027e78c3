import { diagramSvg } from '#libs/reports/diagram/lot-diagram.js';
import type { DiagramShape, LotDiagram } from '#libs/reports/diagram/shape.js';
import type { Rendered } from '#pages/parts/drawing.js';
import { LotDrawing } from '#pages/parts/lot-drawing.js';
import { renderPart } from '../http/render.js';

/** About five kilobytes each, and ten each of a lot's own. */
const maxCached = 1000;
/** Keyed by content and shape; the least recently used first. */
const drawings = new Map<string, string>();
/** Keyed by content; the least recently used first. */
const lotDrawings = new Map<string, Rendered>();

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

/** The value under the key, made where it is not known; the one least recently used is forgotten. */
function cached<T>(cache: Map<string, T>, key: string, make: () => T): T {
  const value = cache.get(key) ?? make();
  cache.delete(key);
  cache.set(key, value);
  const [oldest] = cache.keys();
  if (cache.size > maxCached && oldest !== undefined) cache.delete(oldest);
  return value;
}
