import QRCode from 'qrcode';
import type { PrinterDpi } from './label.js';

export type SymbolLevel = 'Q' | 'M' | 'L';

export interface SymbolChoice {
  readonly level: SymbolLevel;
  readonly version: number;
  /** Modules a side, without the quiet zone. */
  readonly modules: number;
  readonly dotsPerModule: number;
  readonly moduleMm: number;
  /** Side with four modules of quiet zone all round. */
  readonly sideMm: number;
}

/** ISO/IEC 18004: four light modules all round. */
export const quietModules = 4;
const leastModuleMm = 0.42;
const goodModuleMm = 0.5;

/**
 * The ways to print a text, best first: level Q with modules of half a millimetre and more, as large as `mostModuleMm`
 * allows, then Q down to 0.42 mm, then M and L. A module is a whole number of printer dots.
 */
export function symbolChoices(text: string, dpi: PrinterDpi, mostModuleMm = goodModuleMm): SymbolChoice[] {
  const dotMm = 25.4 / dpi;
  const leastDots = Math.ceil(leastModuleMm / dotMm - 1e-9);
  // Half a millimetre at 203 dpi is 3.996 dots: four are meant.
  const mostDots = Math.max(leastDots, Math.round(mostModuleMm / dotMm));
  return (['Q', 'M', 'L'] as const).flatMap((level) => {
    const version = versionFor(text, level);
    if (!version) return [];
    return Array.from({ length: mostDots - leastDots + 1 }, (_, step) => {
      const dotsPerModule = mostDots - step;
      const modules = 17 + 4 * version;
      const moduleMm = dotsPerModule * dotMm;
      return { level, version, modules, dotsPerModule, moduleMm, sideMm: (modules + 2 * quietModules) * moduleMm };
    });
  });
}

/** Dark modules row by row, 1 for dark; the mask is chosen by the scores of ISO/IEC 18004. */
export function symbolModules(text: string, choice: Pick<SymbolChoice, 'level' | 'version'>): Uint8Array {
  return QRCode.create(text, { errorCorrectionLevel: choice.level, version: choice.version }).modules.data;
}

/** Each row's dark runs as PDF rectangles in whole modules, rows counted downwards, for one fill. */
export function symbolRuns(dark: Uint8Array, modules: number): string {
  let path = '';
  for (let row = 0, at = 0; row < modules; row++) {
    for (let column = 0; column < modules; column++, at++) {
      if (dark[at] === 0) continue;
      const start = column;
      while (column + 1 < modules && dark[at + 1] === 1) {
        column++;
        at++;
      }
      path += `${start} ${row} ${column - start + 1} 1 re\n`;
    }
  }
  return path;
}

/** The same runs as an SVG path. */
export const symbolSvgPath = (dark: Uint8Array, modules: number): string =>
  symbolRuns(dark, modules).replace(/(\d+) (\d+) (\d+) 1 re\n/g, 'M$1 $2h$3v1h-$3z');

function versionFor(text: string, level: SymbolLevel): number | undefined {
  try {
    return QRCode.create(text, { errorCorrectionLevel: level, maskPattern: 0 }).version;
  } catch {
    return undefined; // longer than a symbol holds
  }
}
