import type { ReadingRow } from '#pages/parts/field-view.js';
import type { Posted } from './posted.js';

/** Rows visible at first, and rows in all: a longer list is imported as a file. */
export const rowsVisibleAtFirst = 6;
const maxRows = 30;

/** The posted name of one box in a row. */
export const rowBox = (name: string, n: number, part: keyof ReadingRow | 'jars'): string => `${name}~row~${n}~${part}`;

/** All rows of a readings field as they were posted, blank ones too, so that each keeps its place on the page. */
export function readingRows(name: string, posted: Posted): ReadingRow[] {
  const box = (n: number, part: keyof ReadingRow | 'jars'): string => {
    const value = posted[rowBox(name, n, part)];
    return typeof value === 'string' ? value.trim() : '';
  };
  return Array.from({ length: maxRows }, (_, index) => {
    const n = index + 1;
    return {
      n,
      temp: box(n, 'temp'),
      ...splitJarRange(box(n, 'from'), box(n, 'to'), box(n, 'jars')),
      clock: box(n, 'clock'),
      thermometer: box(n, 'thermometer'),
    };
  });
}

/** A form of an earlier version, perhaps queued on a phone, has `9-16` in one box. */
function splitJarRange(from: string, to: string, joinedRange: string): Pick<ReadingRow, 'from' | 'to'> {
  if (joinedRange === '' || from + to !== '') return { from, to };
  const [, first = joinedRange, last = ''] = /^(\d+)\s*[-–]\s*(\d+)$/u.exec(joinedRange) ?? [];
  return { from: first, to: last };
}

/** The rows in which something was typed, one reading each. */
export const filledRows = (name: string, posted: Posted): ReadingRow[] =>
  readingRows(name, posted).filter(({ n: _, ...boxes }) => Object.values(boxes).some((typed) => typed !== ''));
