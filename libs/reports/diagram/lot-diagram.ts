import { layoutDiagram } from './layout.js';
import { type LotDiagram, type DiagramBand, type DiagramLayout, type DiagramShape, type DiagramText } from './shape.js';
import { diagramText } from './description.js';

/**
 * A lot's path from sap to jars as one narrowing line, in a self-contained SVG. Its colours come from the page
 * (`--diagram-ink`, `--diagram-paper`, `--diagram-sap`, `--diagram-syrup`, `--diagram-stop`), with plain ink where the
 * page sets none; it uses no style attribute, so a strict content security policy allows it. `across` heads a page,
 * `down` runs along the edge of a narrow one, `small` is for a row of a list. Its `<desc>` holds the text alternative.
 */
export function diagramSvg(
  diagram: LotDiagram,
  shape: DiagramShape = 'across',
  lengthPt: number = usualLengthPt[shape],
): string {
  const layout = layoutDiagram(diagram, shape, lengthPt);
  const id = `lot-diagram-${shape}-${diagram.code.replace(/[^A-Za-z0-9-]/g, '_')}`;
  const { widthPt, heightPt } = layout;
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" class="lot-diagram lot-diagram-${shape}" role="img" aria-labelledby="${id}-t ${id}-d" ` +
    `viewBox="0 0 ${n(widthPt)} ${n(heightPt)}" width="${n(widthPt)}" height="${n(heightPt)}">` +
    `<title id="${id}-t">${escapeXml(`Diagram of ${diagram.code}`)}</title>` +
    `<desc id="${id}-d">${escapeXml(diagramText(diagram))}</desc>` +
    gradient(layout, id, diagram.syrupColour) +
    bandsSvg(layout, id) +
    layout.dots.map((dot) => dotSvg(dot, shape)).join('') +
    layout.texts.map(textSvg).join('') +
    '</svg>'
  );
}

const usualLengthPt: Readonly<Record<DiagramShape, number>> = { across: 720, down: 320, small: 132 };

export const diagramColours = { ink: '#1d1a16', paper: '#ffffff', sap: '#f3ecd9', syrup: '#c2873f', stop: '#9b2418' };

/** The fill of a band: two curves that start and end along the line. PDF uses the same path. */
export function bandPath(band: DiagramBand, shape: DiagramShape): string {
  const [start, bend, end] = curve(band, shape, -1);
  const [otherStart, otherBend, otherEnd] = curve(band, shape, 1);
  const [out, back] = [bend, [otherBend[1], otherBend[0]] as const];
  return `M${start}C${out[0]} ${out[1]} ${end}L${otherEnd}C${back[0]} ${back[1]} ${otherStart}Z`;
}

/** Its two edges, open at both ends, so that nothing is drawn where one stretch joins the next. */
export const edgePath = (band: DiagramBand, shape: DiagramShape): string =>
  strand(band, shape, -1) + strand(band, shape, 1);

/** The middle of a band, for what has not happened yet. */
export const threadPath = (band: DiagramBand, shape: DiagramShape): string => strand(band, shape, 0);

function strand(band: DiagramBand, shape: DiagramShape, side: -1 | 0 | 1): string {
  const [start, [leave, arrive], end] = curve(band, shape, side);
  return `M${start}C${leave} ${arrive} ${end}`;
}

/** Start, two handles and end of the curve on one side of a band; both handles lie half way along. */
function curve(
  { from, to }: DiagramBand,
  shape: DiagramShape,
  side: -1 | 0 | 1,
): readonly [string, readonly [string, string], string] {
  if (shape === 'down') {
    const [x0, x1] = [from.xPt + side * from.halfPt, to.xPt + side * to.halfPt];
    const middle = (from.yPt + to.yPt) / 2;
    return [at(x0, from.yPt), [at(x0, middle), at(x1, middle)], at(x1, to.yPt)];
  }
  const [y0, y1] = [from.yPt + side * from.halfPt, to.yPt + side * to.halfPt];
  const middle = (from.xPt + to.xPt) / 2;
  return [at(from.xPt, y0), [at(middle, y0), at(middle, y1)], at(to.xPt, y1)];
}

const at = (xPt: number, yPt: number): string => `${n(xPt)} ${n(yPt)}`;

/** The radius of a lot's dot in the diagram, in points. */
export const dotRadiusPt = (shape: DiagramShape): number => (shape === 'small' ? 1.1 : 3);

function gradient(layout: DiagramLayout, id: string, syrupColour: string | null): string {
  const { fromPt, toPt } = layout.turn;
  const ends =
    layout.shape === 'down'
      ? `x1="0" y1="${n(fromPt)}" x2="0" y2="${n(toPt)}"`
      : `x1="${n(fromPt)}" y1="0" x2="${n(toPt)}" y2="0"`;
  const syrup = syrupColour ?? `var(--diagram-syrup, ${diagramColours.syrup})`;
  return (
    `<defs><linearGradient id="${id}" gradientUnits="userSpaceOnUse" ${ends}>` +
    `<stop offset="0" stop-color="var(--diagram-sap, ${diagramColours.sap})"/><stop offset="1" stop-color="${syrup}"/>` +
    '</linearGradient></defs>'
  );
}

/** All edges first and all fills over them, so that lines that meet have one outline. */
function bandsSvg(layout: DiagramLayout, id: string): string {
  const { shape, bands } = layout;
  const weight = shape === 'small' ? 1 : 1.8;
  const stroke = `stroke="var(--diagram-ink, currentColor)" stroke-width="${weight}"`;
  const done = bands.filter((band) => band.happened);
  const ahead = bands.filter((band) => !band.happened).map((band) => threadPath(band, shape));
  const dots = shape === 'small' ? '0.1 2.6' : '0.1 5';
  return (
    `<g fill="none" ${stroke}>${done.map((band) => `<path d="${edgePath(band, shape)}"/>`).join('')}</g>` +
    `<g fill="url(#${id})" stroke="url(#${id})" stroke-width="0.5">${done.map((band) => `<path d="${bandPath(band, shape)}"/>`).join('')}</g>` +
    `<g fill="none" stroke-linecap="round" stroke-dasharray="${dots}" ${stroke}>${ahead.map((path) => `<path d="${path}"/>`).join('')}</g>`
  );
}

function dotSvg(dot: DiagramLayout['dots'][number], shape: DiagramShape): string {
  const colour = dot.stops ? `var(--diagram-stop, ${diagramColours.stop})` : 'var(--diagram-ink, currentColor)';
  const fill = dot.stops ? colour : 'var(--diagram-paper, #fff)';
  return `<circle cx="${n(dot.xPt)}" cy="${n(dot.yPt)}" r="${dotRadiusPt(shape)}" fill="${fill}" stroke="${colour}" stroke-width="${shape === 'small' ? 0.6 : 1.2}"/>`;
}

function textSvg(text: DiagramText): string {
  const anchor = { left: 'start', centre: 'middle', right: 'end' }[text.anchor];
  const colour =
    text.kind === 'stop'
      ? `var(--diagram-stop, ${diagramColours.stop})`
      : text.kind === 'stage'
        ? 'var(--diagram-soft, currentColor)'
        : 'var(--diagram-ink, currentColor)';
  const weight = text.kind === 'reading' || text.kind === 'stop' ? ' font-weight="700"' : '';
  return `<text x="${n(text.xPt)}" y="${n(text.yPt)}" font-size="${text.sizePt}" text-anchor="${anchor}" fill="${colour}"${weight}>${escapeXml(text.text)}</text>`;
}

/** Escapes text for XML content and attribute values. */
export const escapeXml = (text: string): string =>
  text
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;')
    // XML allows no other control characters.
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f]/g, '');

const n = (points: number): string => String(Math.round(points * 100) / 100);
