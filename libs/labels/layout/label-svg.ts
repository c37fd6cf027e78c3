import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { type LabelRun, settingProblem } from '../drawing/label-run.js';
import type { LabelJar, LabelProblem } from '../content/label.js';
import type { PlacedText } from './fit-text.js';
import type { LabelLayout } from './layout.js';
import { layoutRun } from './layout-run.js';
import { netFace } from './net-band.js';
import { diagramEndsMm } from '../drawing/pdf-face.js';
import { symbolModules, symbolSvgPath } from '../symbol/symbol.js';
import { jarText } from '../symbol/symbol-text.js';
import { type Face } from '../drawing/type-faces.js';

/** One label as it will print, for the page beside the form, or what stands in the way of it. */
export function previewLabel(
  run: Omit<LabelRun, 'jars' | 'createdAt'>,
  jar: LabelJar,
): { svg: string; layout: LabelLayout } | { problem: LabelProblem } {
  const problem = settingProblem(run);
  if (problem) return { problem };
  const placed = layoutRun(run, jar.code);
  if ('problem' in placed) return placed;
  return {
    svg: labelSvg(placed.layout, jar.code, jarText(placed.symbol, run.content, jar.code)),
    layout: placed.layout,
  };
}

/** A label in millimetres; its page must carry the typeface's style sheet, else words are squeezed to their widths. */
export function labelSvg(layout: LabelLayout, code: string, symbolText: string): string {
  const { widthMm, heightMm, cornerMm, symbol } = layout;
  const modules = symbolSvgPath(symbolModules(symbolText, symbol), symbol.modules);
  const formatted = [...layout.texts, ...layout.net.lines].map(({ text }) => text).join('; ');
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${widthMm} ${heightMm}" width="${widthMm}mm" height="${heightMm}mm" role="img" aria-label="${escaped(`Label: ${formatted}; jar code ${printedJarCode(code)}`)}">`,
    `<defs><clipPath id="face-${code}"><rect width="${widthMm}" height="${heightMm}" rx="${cornerMm}"/></clipPath></defs>`,
    `<rect width="${widthMm}" height="${heightMm}" rx="${cornerMm}" fill="#fff"/>`,
    `<g fill="#000" clip-path="url(#face-${code})">`,
    practice(layout),
    layout.bar ? `<rect width="${widthMm}" height="${round(layout.bar.heightMm)}"/>` : '',
    taper(layout),
    ...layout.texts.map((line) => words(line)),
    ...layout.net.lines.map((line) => words({ ...line, item: 'Net quantity', face: netFace, emMm: layout.net.emMm })),
    words({ ...layout.code, text: printedJarCode(code) }),
    `<path transform="translate(${round(symbol.xMm)} ${round(symbol.yMm)}) scale(${round(symbol.moduleMm)})" shape-rendering="crispEdges" d="${modules}"/>`,
    '</g></svg>',
  ].join('');
}

const families: Readonly<Record<Face, readonly [string, number]>> = {
  words: ['Atkinson Hyperlegible Next', 400],
  'words-semi': ['Atkinson Hyperlegible Next', 600],
  'words-bold': ['Atkinson Hyperlegible Next', 700],
  'words-heavy': ['Atkinson Hyperlegible Next', 800],
  code: ['Atkinson Hyperlegible Mono', 400],
  'code-bold': ['Atkinson Hyperlegible Mono', 700],
};

function words({ text, face, emMm, xMm, baselineMm, widthMm, paper }: PlacedText): string {
  const [family, weight] = families[face];
  return (
    `<text x="${round(xMm)}" y="${round(baselineMm)}" font-family="'${family}', sans-serif" font-weight="${weight}" font-size="${round(emMm)}"` +
    ` textLength="${round(widthMm)}" lengthAdjust="spacingAndGlyphs"${paper ? ' fill="#fff"' : ''}>${escaped(text)}</text>`
  );
}

function taper({ taper: line }: LabelLayout): string {
  if (!line) return '';
  const { xMm, yMm, widthMm } = line;
  const [thick, thin] = diagramEndsMm;
  return `<path d="M${round(xMm)} ${round(yMm - thick / 2)}L${round(xMm + widthMm)} ${round(yMm - thin / 2)}V${round(yMm + thin / 2)}L${round(xMm)} ${round(yMm + thick / 2)}Z"/>`;
}

function practice({ practice: across }: LabelLayout): string {
  if (!across) return '';
  const { word, emMm, turn, xMm, yMm } = across;
  const [family, weight] = families['words-heavy'];
  return `<text transform="translate(${round(xMm)} ${round(yMm)}) rotate(${round((-turn * 180) / Math.PI)})" font-family="'${family}', sans-serif" font-weight="${weight}" font-size="${round(emMm)}" fill="none" stroke="#737373" stroke-width=".15">${word}</text>`;
}

const round = (value: number): number => Math.round(value * 1000) / 1000;
const entities: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
const escaped = (text: string): string => text.replace(/[&<>"]/g, (letter) => entities[letter]!);
