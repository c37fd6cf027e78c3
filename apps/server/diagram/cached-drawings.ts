import { diagramSvg } from '#libs/reports/diagram/lot-diagram.js';
import type { DiagramShape, LotDiagram } from '#libs/reports/diagram/shape.js';
import type { Rendered } from '#pages/parts/drawing.js';
import { LotDrawing } from '#pages/parts/lot-drawing.js';
import { rendered } from '../http/render.js';

/** About five kilobytes each, and ten each of a lot's own. */
const mostCached = 1000;
/** Keyed by content and shape; the least recently used first. */
const drawings = new Map<string, string>();
/** Keyed by content; the least recently used first. */
const lotDrawings = new Map<string, Rendered>();

/**
 * A diagram as SVG, cached by its content: all jars of a pack share one, and drawing it takes longer than reading its
 * data.
 */
export const cachedDrawing = (diagram: LotDiagram, shape: DiagramShape): string =>
  latest(drawings, `${shape} ${JSON.stringify(diagram)}`, () => diagramSvg(diagram, shape));

/**
 * The drawing of a lot's own page for a wide and for a narrow screen, `lengthPt` long where it is wide. It is two thirds
 * of the page, so it is rendered and encoded once.
 */
export const cachedLotDrawing = (diagram: LotDiagram, lengthPt: number): Rendered =>
  latest(lotDrawings, `${lengthPt} ${JSON.stringify(diagram)}`, () =>
    rendered(LotDrawing({ across: diagramSvg(diagram, 'across', lengthPt), down: diagramSvg(diagram, 'down') })),
  );

/** The value under the key, made where it is not known; the one least recently used is forgotten. */
function latest<T>(all: Map<string, T>, key: string, make: () => T): T {
  const value = all.get(key) ?? make();
  all.delete(key);
  all.set(key, value);
  const [oldest] = all.keys();
  if (all.size > mostCached && oldest !== undefined) all.delete(oldest);
  return value;
}
