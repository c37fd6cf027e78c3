import { labelCorner, labelsPerPage, type Stock } from '../stocks/stocks.js';

/** More numbers than this would be unreadable. */
const maxNumbers = 120;

/** A page of labels as outlines with their position numbers, for the page beside the form. */
export function sheetSvg(stock: Stock): string {
  const { pageWidthMm, pageHeightMm, labelWidthMm, labelHeightMm, columns, rows } = stock;
  const count = labelsPerPage(stock);
  const outlines = Array.from({ length: count }, (_, position) => outline(stock, position)).join('');
  const emMm = Math.min(labelHeightMm / 2, labelWidthMm / 3);
  const numbers = Array.from({ length: count <= maxNumbers ? count : 0 }, (_, position) => {
    const { xMm, yMm } = labelCorner(stock, position);
    return `<text x="${round(xMm + labelWidthMm / 2)}" y="${round(yMm + labelHeightMm / 2 + emMm * 0.35)}">${position + 1}</text>`;
  }).join('');
  const title = `Page of ${pageWidthMm} × ${pageHeightMm} mm with ${columns} × ${rows} labels of ${labelWidthMm} × ${labelHeightMm} mm`;
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="-1 -1 ${round(pageWidthMm + 2)} ${round(pageHeightMm + 2)}" role="img" aria-label="${title}">` +
    `<rect width="${pageWidthMm}" height="${pageHeightMm}" fill="#fff" stroke="#000" stroke-width="0.6"/>` +
    `<path d="${outlines}" fill="#eee" fill-opacity="0.7" stroke="#000" stroke-width="0.5"/>` +
    `<g font-family="'Atkinson Hyperlegible Next', sans-serif" font-size="${round(emMm)}" text-anchor="middle" fill="#000">${numbers}</g></svg>`
  );
}

function outline(stock: Stock, position: number): string {
  const { xMm, yMm } = labelCorner(stock, position);
  const { labelWidthMm, labelHeightMm } = stock;
  const corner = Math.min(stock.cornerMm, labelWidthMm / 2, labelHeightMm / 2);
  const [r, q] = stock.shape === 'oval' ? [labelWidthMm / 2, labelHeightMm / 2] : [corner, corner];
  const [across, down] = [round(labelWidthMm - 2 * r), round(labelHeightMm - 2 * q)];
  const turn = (dx: number, dy: number): string => (r > 0 ? `a${r} ${q} 0 0 1 ${dx} ${dy}` : '');
  return `M${round(xMm + r)} ${round(yMm)}h${across}${turn(r, q)}v${down}${turn(-r, q)}h${-across}${turn(-r, -q)}v${-down}${turn(r, -q)}z`;
}

const round = (mm: number): number => Math.round(mm * 1000) / 1000;
