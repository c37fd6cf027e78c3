import { number } from './pen.js';

/**
 * A rectangle with elliptic corners as a closed PDF path, from its bottom left: a quarter of an ellipse by one cubic
 * curve, whose handle lies at 0.5523 of the radius. Radii of half the sides make an ellipse.
 */
export function roundedPath(
  xMm: number,
  yMm: number,
  widthMm: number,
  heightMm: number,
  rx: number,
  ry: number = rx,
): string {
  const [left, low, right, high] = [xMm, yMm, xMm + widthMm, yMm + heightMm];
  const [hx, hy] = [rx * (1 - 0.5523), ry * (1 - 0.5523)];
  const path: (number | string)[] = [
    ...[left + rx, low, 'm', right - rx, low, 'l'],
    ...[right - hx, low, right, low + hy, right, low + ry, 'c'],
    ...[right, high - ry, 'l'],
    ...[right, high - hy, right - hx, high, right - rx, high, 'c'],
    ...[left + rx, high, 'l'],
    ...[left + hx, high, left, high - hy, left, high - ry, 'c'],
    ...[left, low + ry, 'l'],
    ...[left, low + hy, left + hx, low, left + rx, low, 'c'],
  ];
  return `${path.map((part) => (typeof part === 'number' ? number(part) : part)).join(' ')} h`;
}
