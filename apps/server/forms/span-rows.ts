import type { SpanRow } from '#pages/parts/field-view.js';
import type { Posted } from './posted.js';

const rows = [1, 2] as const;

/** The posted name of one box in a row. */
export const spanBox = (name: string, n: number, end: 'from' | 'to'): string => `${name}~${end}~${n}`;

/** The boxes of a field of jars as they were filled. */
export function spanRows(name: string, posted: Posted): SpanRow[] {
  const box = (n: number, end: 'from' | 'to'): string => {
    const value = posted[spanBox(name, n, end)];
    return typeof value === 'string' ? value.trim() : '';
  };
  return rows.map((n) => ({ n, from: box(n, 'from'), to: box(n, 'to') }));
}
