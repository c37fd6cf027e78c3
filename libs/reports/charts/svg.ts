import { ink } from './chart-style.js';

/** Rounded to a hundredth of a point: finer is invisible, and a season of a thousand readings stays small. */
export const place = (n: number): string => String(Math.round(n * 100) / 100);

export interface TextStyle {
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly bold?: boolean;
  readonly fill?: string;
  /** Rotated to read upwards. */
  readonly upwards?: boolean;
}

/** Text with its baseline at this height. */
export function svgText(x: number, y: number, content: string, fontPx: number, style: TextStyle = {}): string {
  const turn = style.upwards ? ' rotate(-90)' : '';
  const weight = style.bold ? ' font-weight="bold"' : '';
  return `<text text-anchor="${style.anchor ?? 'start'}" transform="translate(${place(x)},${place(y)})${turn}" font-size="${place(fontPx)}px"${weight} fill="${style.fill ?? ink.black}">${escaped(content)}</text>`;
}

export interface Stroke {
  readonly stroke?: string;
  readonly width?: number;
}

/** Lines with one stroke, each from a point to a point. */
export function svgLines(
  lines: readonly (readonly [x1: number, y1: number, x2: number, y2: number])[],
  { stroke = ink.black, width = 1 }: Stroke = {},
): string {
  if (lines.length === 0) return '';
  const d = lines.map(([x1, y1, x2, y2]) => `M${place(x1)},${place(y1)}L${place(x2)},${place(y2)}`).join('');
  return `<path d="${d}" fill="none" stroke="${stroke}" stroke-width="${width}"/>`;
}

/** A rectangle; `x` and `y` are its upper left corner. */
export function svgRect(
  { x, y, width, height }: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
  { fill, stroke, strokeWidth = 1 }: { readonly fill: string; readonly stroke?: string; readonly strokeWidth?: number },
): string {
  const edge = stroke === undefined ? '' : ` stroke="${stroke}" stroke-width="${strokeWidth}"`;
  return `<rect x="${place(x)}" y="${place(y)}" width="${place(width)}" height="${place(height)}" fill="${fill}"${edge}/>`;
}

/** Circles of one size and colour, given once for all of them. */
export function svgCircles(
  centres: readonly { readonly x: number; readonly y: number }[],
  { radius, fill, stroke }: { readonly radius: number; readonly fill: string; readonly stroke: string },
): string {
  if (centres.length === 0) return '';
  const r = place(radius);
  const circles = centres.map(({ x, y }) => `<circle cx="${place(x)}" cy="${place(y)}" r="${r}"/>`).join('');
  return `<g fill="${fill}" stroke="${stroke}" stroke-width="1">${circles}</g>`;
}

/** The whole picture; its parts are relative to the plot's origin. The text beside it is its alternative. */
export function svgPicture(
  size: { readonly width: number; readonly height: number; readonly left: number; readonly top: number },
  parts: readonly string[],
): string {
  const [width, height] = [place(size.width), place(size.height)];
  return `<svg aria-hidden="true" xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}"><g transform="translate(${place(size.left)},${place(size.top)})" font-family="Atkinson Hyperlegible Next, sans-serif">${parts.join('')}</g></svg>`;
}

const escaped = (text: string): string => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
