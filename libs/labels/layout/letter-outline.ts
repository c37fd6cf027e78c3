import { type Face, loadedFont, runsOf } from '../drawing/type-faces.js';

/** A letter's outline, its em being 1, from 0, 0 on the baseline, y upwards: as PDF operators, or as an SVG path. */
export const outlineOperators = (letter: string, face: Face): string =>
  outline(letter, face)
    .map(({ command, points }) => `${points.join(' ')} ${pdfOperators[command]}`.trim())
    .join('\n');

export const outlineSvgPath = (letter: string, face: Face): string =>
  outline(letter, face)
    .map(({ command, points }) => `${svgLetters[command]}${points.join(' ')}`)
    .join('');

type Command = 'move' | 'line' | 'curve' | 'close';
interface Step {
  readonly command: Command;
  readonly points: readonly number[];
}

function outline(letter: string, face: Face): Step[] {
  const font = loadedFont(runsOf(letter, face).runs[0]!.font).font;
  let x = 0;
  let y = 0;
  return font.layout(letter).glyphs[0]!.path.commands.map(({ command, args }) => {
    const points = command === 'quadraticCurveTo' ? asCubic(x, y, args) : args;
    [x, y] = [points.at(-2) ?? x, points.at(-1) ?? y];
    return {
      command: commandNames[command]!,
      points: points.map((at) => Math.round((at / font.unitsPerEm) * 1e5) / 1e5),
    };
  });
}

/** PDF has cubic curves only; a TrueType curve is one whose handles lie at two thirds. */
function asCubic(x: number, y: number, args: readonly number[]): number[] {
  const [handleX, handleY, endX, endY] = args as [number, number, number, number];
  const twoThirds = (from: number, handle: number): number => from + (2 / 3) * (handle - from);
  return [twoThirds(x, handleX), twoThirds(y, handleY), twoThirds(endX, handleX), twoThirds(endY, handleY), endX, endY];
}

const commandNames: Readonly<Record<string, Command>> = {
  moveTo: 'move',
  lineTo: 'line',
  quadraticCurveTo: 'curve',
  bezierCurveTo: 'curve',
  closePath: 'close',
};
const pdfOperators: Readonly<Record<Command, string>> = { move: 'm', line: 'l', curve: 'c', close: 'h' };
const svgLetters: Readonly<Record<Command, string>> = { move: 'M', line: 'L', curve: 'C', close: 'Z' };
