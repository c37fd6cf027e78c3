import QRCode, { type QRCodeSegment } from 'qrcode';
import type { PrinterDpi } from '../content/label.js';
import { maskedModules, type SymbolLevel } from './symbol-mask.js';

export interface SymbolChoice {
  readonly level: SymbolLevel;
  readonly version: number;
  /** Modules per side, without the quiet zone. */
  readonly modules: number;
  readonly dotsPerModule: number;
  readonly moduleMm: number;
  /** Side with four modules of quiet zone all around. */
  readonly sideMm: number;
}

/** ISO/IEC 18004: four light modules all around. */
export const quietModules = 4;
const minModuleMm = 0.42;
const goodModuleMm = 0.5;

/**
 * The ways to print a text, best first: level Q with modules of half a millimetre and more, as large as `maxModuleMm`
 * allows, then Q down to 0.42 mm, then M and L. A module is a whole number of printer dots.
 */
export function symbolChoices(text: string, dpi: PrinterDpi, maxModuleMm = goodModuleMm): SymbolChoice[] {
  const dotMm = 25.4 / dpi;
  const minDots = Math.ceil(minModuleMm / dotMm - 1e-9);
  // Half a millimetre at 203 dpi is 3.996 dots; rounded to four.
  const maxDots = Math.max(minDots, Math.round(maxModuleMm / dotMm));
  return (['Q', 'M', 'L'] as const).flatMap((level) => {
    const version = versionFor(text, level);
    if (!version) return [];
    return Array.from({ length: maxDots - minDots + 1 }, (_, step) => {
      const dotsPerModule = maxDots - step;
      const modules = 17 + 4 * version;
      const moduleMm = dotsPerModule * dotMm;
      return { level, version, modules, dotsPerModule, moduleMm, sideMm: (modules + 2 * quietModules) * moduleMm };
    });
  });
}

/** Dark modules row by row, 1 for dark; the mask is chosen by the scores of ISO/IEC 18004. */
export function symbolModules(text: string, choice: Pick<SymbolChoice, 'level' | 'version'>): Uint8Array {
  return maskedModules(segments(text), choice);
}

/** A text of capitals is one segment; having the library search for a better split takes longer than drawing it. */
const segments = (text: string): string | QRCodeSegment[] =>
  /^[0-9A-Z $%*+\-./:]+$/.test(text) && !/\d{10}/.test(text) ? [{ data: text, mode: 'alphanumeric' }] : text;

/** Each row's dark runs as PDF rectangles in whole modules, rows counted downwards, for one fill. */
export function symbolRuns(dark: Uint8Array, modules: number): string {
  let path = '';
  for (let row = 0, at = 0; row < modules; row++) {
    let start = -1;
    for (let column = 0; column < modules; column++, at++) {
      if (dark[at] === 1) {
        if (start < 0) start = column;
      } else if (start >= 0) {
        path += rectangle(start, row, column - start);
        start = -1;
      }
    }
    if (start >= 0) path += rectangle(start, row, modules - start);
  }
  return path;
}

/**
 * Cached, since every symbol uses the same few thousand rectangles: formatting their numbers took half the time of a
 * label.
 */
function rectangle(column: number, row: number, length: number): string {
  const key = (row * 256 + column) * 256 + length;
  const cached = rectangles.get(key);
  if (cached !== undefined) return cached;
  const path = `${column} ${row} ${length} 1 re\n`;
  rectangles.set(key, path);
  return path;
}

const rectangles = new Map<number, string>();

/** The same runs as an SVG path. */
export const symbolSvgPath = (dark: Uint8Array, modules: number): string =>
  symbolRuns(dark, modules).replace(/(\d+) (\d+) (\d+) 1 re\n/g, 'M$1 $2h$3v1h-$3z');

function versionFor(text: string, level: SymbolLevel): number | undefined {
  try {
    return QRCode.create(segments(text), { errorCorrectionLevel: level, maskPattern: 0 }).version;
  } catch {
    return undefined; // longer than a symbol can hold
  }
}
