import { isAmbiguousComma, parseDecimal, splitAmount } from '../quantities/amount-text.js';
import type { Parsed } from '../quantities/quantities.js';

/** An area as typed, and in mm². */
export interface Area {
  readonly typed: string;
  readonly squareMillimetres: number;
}

/** Parses the area of a label's panel: `12 in2`, `12 sq in`, `80 cm²`. */
export function parseArea(text: string): Parsed<Area> {
  const found = splitAmount(text);
  const unit = (found?.rest ?? '')
    .toLowerCase()
    .replace(/[\s.^]/g, '')
    .replace('²', '2');
  const each = Object.hasOwn(squareMillimetresIn, unit) ? squareMillimetresIn[unit] : undefined;
  if (!found || found.sign < 0 || each === undefined || isAmbiguousComma(found.digits))
    return {
      mismatch: { expected: 'an area like 12 in² or 80 cm²', got: text.trim() === '' ? 'nothing' : `"${text.trim()}"` },
    };
  return { value: { typed: text.trim(), squareMillimetres: parseDecimal(found.digits) * each } };
}

const squareMillimetresIn: Readonly<Record<string, number>> = {
  in2: 645.16,
  sqin: 645.16,
  squarein: 645.16,
  squareinches: 645.16,
  cm2: 100,
  sqcm: 100,
  mm2: 1,
};
