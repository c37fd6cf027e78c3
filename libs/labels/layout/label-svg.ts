import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { type LabelRun, settingProblem } from '../drawing/label-run.js';
import type { LabelJar, LabelProblem } from '../content/label.js';
import type { PlacedText } from './fit-text.js';
import type { LabelLayout } from './label-layout.js';
import { layoutRun } from './layout-run.js';
import { netFace } from './net-band.js';
import { diagramEndsMm } from '../drawing/pdf-face.js';
import { symbolModules, symbolSvgPath } from '../symbol/symbol.js';
import { jarText } from '../symbol/symbol-text.js';
import { pathUnits, textPath } from '../drawing/text-path.js';
import { labelColours } from '../content/label-look.js';
import type { Shape } from './frames.js';

/** One label as it will print, for the page beside the form, or why it can't be printed. */
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

/** A label in millimetres, with letters as outlines and the drawing embedded, so that it looks as printed. */
export function labelSvg(layout: LabelLayout, code: string, symbolText: string): string {
  const { widthMm, heightMm } = layout;
  const clip = `face-${code}`;
  const edge = edgeShape(layout);
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${widthMm} ${heightMm}" width="${widthMm}mm" height="${heightMm}mm" role="img" aria-labelledby="${clip}-text">`,
    `<desc id="${clip}-text">${escaped(ariaLabel(layout, code))}</desc>`,
    `<defs><clipPath id="${clip}">${edge}</clipPath></defs>`,
    edge.replace('/>', ' fill="#fff"/>'),
    `<g fill="#000" clip-path="url(#${clip})">`,
    labelFace(layout),
    jarCodeSvg(layout, code, symbolText),
    '</g></svg>',
  ].join('');
}

const ariaLabel = (layout: LabelLayout, code: string): string =>
  `Label: ${[...layout.texts, ...layout.net.lines].map(({ text }) => text).join('; ')}; jar code ${printedJarCode(code)}${layout.practice ? '; PRACTICE across it' : ''}`;

/** What is the same on each label of a run. */
export function labelFace(layout: LabelLayout): string {
  const tint = labelColours[layout.look.colour].hex;
  const bar = layout.bar ? `<rect width="${layout.widthMm}" height="${round(layout.bar.heightMm)}"/>` : '';
  return [
    practice(layout),
    `<g fill="${tint}" stroke="none">${bar}${rule(layout)}${logo(layout, tint)}</g>`,
    `<g fill="none" stroke="${tint}">${layout.frame.map(frameLine).join('')}</g>`,
    ...layout.texts.map((line) => textElement(line, line.paper ? '#fff' : line.tinted ? tint : undefined)),
    ...layout.net.lines.map((line) =>
      textElement({ ...line, item: 'Net quantity', face: netFace, emMm: layout.net.emMm }),
    ),
  ].join('');
}

/** What differs from jar to jar: its code and its symbol. */
export function jarCodeSvg(layout: LabelLayout, code: string, symbolText: string): string {
  const { symbol } = layout;
  const modules = symbolSvgPath(symbolModules(symbolText, symbol), symbol.modules);
  return (
    textElement({ ...layout.code, text: printedJarCode(code) }) +
    `<path transform="translate(${round(symbol.xMm)} ${round(symbol.yMm)}) scale(${round(symbol.moduleMm)})" shape-rendering="crispEdges" d="${modules}"/>`
  );
}

function edgeShape({ widthMm, heightMm, cornerMm, isOval }: LabelLayout): string {
  const [rx, ry] = isOval ? [widthMm / 2, heightMm / 2] : [cornerMm, cornerMm];
  return `<rect width="${widthMm}" height="${heightMm}" rx="${rx}" ry="${ry}"/>`;
}

function frameLine(shape: Shape): string {
  const { xMm, yMm, widthMm, heightMm, strokeMm } = shape;
  const [rx, ry] = shape.kind === 'ellipse' ? [widthMm / 2, heightMm / 2] : [shape.cornerMm, shape.cornerMm];
  const [x, y, w, h, r, q] = [xMm, yMm, widthMm, heightMm, rx, ry].map((each) => round(each));
  return `<rect x="${x}" y="${y}" width="${w}" height="${h}" rx="${r}" ry="${q}" stroke-width="${strokeMm}"/>`;
}

/** Black without colour, as in the PDF; otherwise in its own colours. */
function logo({ logo: box, look }: LabelLayout, tint: string): string {
  if (!box || !look.logo) return '';
  const png = look.colour === 'black' ? look.logo.inkPng : look.logo.colourPng;
  return (
    `<image x="${round(box.xMm)}" y="${round(box.yMm)}" width="${round(box.widthMm)}" height="${round(box.heightMm)}"` +
    ` color="${tint}" href="data:image/png;base64,${Buffer.from(png).toString('base64')}"/>`
  );
}

function textElement({ text, face, emMm, xMm, baselineMm }: PlacedText, fill?: string): string {
  const scale = round(emMm / pathUnits, 1e7);
  const at = `translate(${round(xMm)} ${round(baselineMm)}) scale(${scale} ${-scale})`;
  return `<path transform="${at}"${fill ? ` fill="${fill}"` : ''} d="${textPath(text, face)}"/>`;
}

function rule({ rule: line }: LabelLayout): string {
  if (!line) return '';
  const { xMm, yMm, widthMm } = line;
  const [thick, thin] = diagramEndsMm;
  return `<path d="M${round(xMm)} ${round(yMm - thick / 2)}L${round(xMm + widthMm)} ${round(yMm - thin / 2)}V${round(yMm + thin / 2)}L${round(xMm)} ${round(yMm + thick / 2)}Z"/>`;
}

function practice({ practice: across }: LabelLayout): string {
  if (!across) return '';
  const { word, emMm, turn, xMm, yMm } = across;
  const scale = emMm / pathUnits;
  const at = `translate(${round(xMm)} ${round(yMm)}) rotate(${round((-turn * 180) / Math.PI)}) scale(${round(scale, 1e7)} ${-round(scale, 1e7)})`;
  return `<path transform="${at}" fill="none" stroke="#737373" stroke-width="${round(0.15 / scale)}" d="${textPath(word, 'words-heavy')}"/>`;
}

const round = (value: number, places = 1000): number => Math.round(value * places) / places;
const entities: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
const escaped = (text: string): string => text.replace(/[&<>"]/g, (letter) => entities[letter]!);
