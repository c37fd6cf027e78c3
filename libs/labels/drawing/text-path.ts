import { type Face, loadedFont, runsOf } from './type-faces.js';

/** Units per em of the paths. */
export const pathUnits = 1000;

/**
 * A text as outlines of its letters, an SVG path in thousandths of the em, upwards from the baseline: the screen shows
 * what the PDF prints, whatever fonts the device has.
 */
export function textPath(text: string, face: Face): string {
  const cached = paths.get(face + text);
  if (cached !== undefined) return cached;
  let path = '';
  let penX = 0;
  for (const run of runsOf(text, face).runs) {
    const { font } = loadedFont(run.font);
    const scale = pathUnits / font.unitsPerEm;
    const { glyphs, positions } = font.layout(run.text);
    glyphs.forEach((glyph, index) => {
      const { xAdvance, xOffset, yOffset } = positions[index]!;
      for (const { command, args } of glyph.path.commands)
        path += (letters[command] ?? '') + args.map((at, side) => coordinate(at, side)).join(' ');
      penX += xAdvance * scale;

      function coordinate(at: number, side: number): number {
        return Math.round(side % 2 === 0 ? penX + (at + xOffset) * scale : (at + yOffset) * scale);
      }
    });
  }
  if (paths.size > 2000) paths.clear();
  paths.set(face + text, path);
  return path;
}

const letters: Readonly<Record<string, string>> = {
  moveTo: 'M',
  lineTo: 'L',
  quadraticCurveTo: 'Q',
  bezierCurveTo: 'C',
  closePath: 'Z',
};

const paths = new Map<string, string>();
