import { escapeXml } from './lot-diagram.js';

export type StampWord = 'HELD' | 'RECALLED' | 'RELEASED' | 'PRACTICE';

/**
 * A rubber stamp, slightly turned, as a self-contained SVG. `beneath` is a short second line such as `WE 2026-03-20`.
 * Colour from the page (`--stamp`, and `--stamp-released` for RELEASED); the word says the same without it.
 */
export function stampSvg(word: StampWord, beneath = '', widthPt = 190): string {
  const layout = layoutStamp(word, beneath);
  const colour = word === 'RELEASED' ? 'var(--stamp-released, #1f5446)' : 'var(--stamp, #9b2418)';
  const { width, height, turnDegrees } = layout;
  const inner = (inset: number, weight: number): string =>
    `<rect x="${inset}" y="${inset}" width="${width - 2 * inset}" height="${height - 2 * inset}" rx="${9 - inset}" fill="none" stroke="${colour}" stroke-width="${weight}"/>`;
  const box = rotatedSize(layout);
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" class="stamp stamp-${word.toLowerCase()}" role="img" ` +
    `aria-label="${escapeXml([word, beneath].filter((part) => part !== '').join(', '))}" ` +
    `viewBox="0 0 ${box.width} ${box.height}" width="${widthPt}" height="${Math.round((widthPt * box.height) / box.width)}">` +
    `<g transform="translate(${box.width / 2} ${box.height / 2}) rotate(${turnDegrees}) translate(${-width / 2} ${-height / 2})">` +
    inner(2, 3.4) +
    inner(6.4, 1) +
    `<text x="${width / 2}" y="${layout.wordBaseline}" font-size="${layout.wordSize}" font-weight="700" letter-spacing="${layout.spacing}" text-anchor="middle" fill="${colour}" textLength="${width - 40}" lengthAdjust="spacing">${word}</text>` +
    (beneath === ''
      ? ''
      : `<text x="${width / 2}" y="${layout.beneathBaseline}" font-size="12" font-weight="700" text-anchor="middle" fill="${colour}">${escapeXml(beneath)}</text>`) +
    '</g></svg>'
  );
}

export interface StampLayout {
  readonly width: number;
  readonly height: number;
  readonly turnDegrees: number;
  readonly wordSize: number;
  readonly spacing: number;
  readonly wordBaseline: number;
  readonly beneathBaseline: number;
}

/** The stamp's measures before rotation; the same for page and PDF. */
export function layoutStamp(word: StampWord, beneath: string): StampLayout {
  const width = Math.max(24 * word.length + 44, beneath.length * 7 + 32);
  const height = beneath === '' ? 56 : 70;
  return { width, height, turnDegrees: -6, wordSize: 34, spacing: 3, wordBaseline: 40, beneathBaseline: 57 };
}

function rotatedSize({ width, height, turnDegrees }: StampLayout): { width: number; height: number } {
  const turn = Math.abs((turnDegrees * Math.PI) / 180);
  return {
    width: Math.ceil(width * Math.cos(turn) + height * Math.sin(turn)) + 2,
    height: Math.ceil(width * Math.sin(turn) + height * Math.cos(turn)) + 2,
  };
}
