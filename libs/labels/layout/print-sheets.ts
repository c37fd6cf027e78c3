import { type LabelRun, settingProblem } from '../drawing/label-run.js';
import { pathUnits, textPath } from '../drawing/text-path.js';
import type { LabelJar, LabelProblem } from '../content/label.js';
import { labelCorner, labelsPerPage, type Stock } from '../stocks/stocks.js';
import { jarText } from '../symbol/symbol-text.js';
import { jarCodeSvg, labelFace } from './label-svg.js';
import { layoutRun } from './layout-run.js';

/** The most labels that a browser prints without a PDF: more would take too long on a phone. */
export const maxLabelsInBrowser = 300;

/**
 * The pages of a run as SVG in millimetres, for a browser to print at actual size: the same layout as the PDF and the
 * preview. The face is defined once, in the first page.
 */
export async function printSheets(
  run: LabelRun,
): Promise<{ sheets: readonly string[] } | { problem: LabelProblem } | { tooMany: number }> {
  const problem = settingProblem(run);
  if (problem) return { problem };
  const jars: LabelJar[] = [];
  for await (const jar of run.jars) {
    jars.push(jar);
    if (jars.length > maxLabelsInBrowser) return { tooMany: maxLabelsInBrowser };
  }
  if (!jars[0]) return { problem: { kind: 'no-jars' } };
  const placed = layoutRun(run, jars[0].code);
  if ('problem' in placed) return placed;
  const { stock, content, nudge, skip = 0 } = run;
  const perPage = labelsPerPage(stock);
  const sheets: string[] = [];
  for (const [index, jar] of jars.entries()) {
    const position = skip + index;
    const { xMm, yMm } = labelCorner(stock, position % perPage);
    const page = Math.floor(position / perPage);
    const at = `translate(${round(xMm + (nudge?.rightMm ?? 0))} ${round(yMm + (nudge?.downMm ?? 0))})`;
    const codeSvg = jarCodeSvg(placed.layout, jar.code, jarText(placed.symbol, content, jar.code));
    sheets[page] = `${sheets[page] ?? ''}<g transform="${at}"><use href="#label-face"/>${codeSvg}</g>`;
  }
  const face = `<defs><g id="label-face">${labelFace(placed.layout)}</g></defs>`;
  return { sheets: sheets.map((labels, page) => pageSvg(stock, `${page === 0 ? face : ''}${labels}`)) };
}

/**
 * Outlines for plain paper, to hold behind a sheet of labels, and a line that shows whether it was printed at 100 %.
 */
export function alignmentSvg(stock: Stock, nudge: { readonly rightMm: number; readonly downMm: number }): string {
  const outlines = Array.from({ length: labelsPerPage(stock) }, (_, position) => {
    const { xMm, yMm } = labelCorner(stock, position);
    const [rx, ry] =
      stock.shape === 'oval' ? [stock.labelWidthMm / 2, stock.labelHeightMm / 2] : [stock.cornerMm, stock.cornerMm];
    return `<rect x="${round(xMm + nudge.rightMm)}" y="${round(yMm + nudge.downMm)}" width="${stock.labelWidthMm}" height="${stock.labelHeightMm}" rx="${rx}" ry="${ry}"/>`;
  });
  const first = labelCorner(stock, 0);
  const lineMm = Math.min(100, Math.floor((stock.pageWidthMm - 10) / 10) * 10);
  const emMm = Math.min(3, stock.labelHeightMm / 10);
  const xMm = Math.max(first.xMm, 2) + stock.labelWidthMm * (stock.shape === 'oval' ? 0.25 : 0.04);
  const yMm = Math.max(first.yMm, 1) + stock.labelHeightMm * 0.45;
  const rulerText = [`This line is ${lineMm} mm long:`, 'if it is not, print at 100 %.'].map((text, index) =>
    textSvg(text, emMm, xMm, yMm + index * emMm * 1.25),
  );
  const startMm = (stock.pageWidthMm - lineMm) / 2;
  const rulerMm = first.yMm + stock.labelHeightMm * 0.75;
  const ticks = Array.from({ length: lineMm / 10 + 1 }, (_, at) => `M${startMm + at * 10} ${round(rulerMm)}v-2`).join(
    '',
  );
  return pageSvg(
    stock,
    `<g fill="none" stroke="#000" stroke-width="0.15">${outlines.join('')}<path d="M${startMm} ${round(rulerMm)}h${lineMm}${ticks}"/></g>${rulerText.join('')}`,
  );
}

const textSvg = (text: string, emMm: number, xMm: number, yMm: number): string =>
  `<path transform="translate(${round(xMm)} ${round(yMm)}) scale(${emMm / pathUnits} ${-emMm / pathUnits})" d="${textPath(text, 'words')}"/>`;

const pageSvg = ({ pageWidthMm, pageHeightMm }: Stock, content: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" class="page-sheet" width="${pageWidthMm}mm" height="${pageHeightMm}mm" viewBox="0 0 ${pageWidthMm} ${pageHeightMm}" aria-hidden="true">${content}</svg>`;

const round = (value: number): number => Math.round(value * 1000) / 1000;
