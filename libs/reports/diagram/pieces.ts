import type { Reading, ReadingKind } from '../season/lot.js';
import type { TaperKnot, TaperLink, TaperNode } from './shape.js';

export const node = (
  id: string,
  stage: TaperNode['stage'],
  name: string,
  amount: string,
  millilitres: number | null,
): TaperNode => ({
  id,
  stage,
  name,
  amount,
  millilitres,
  happened: true,
  knots: [],
});

export const thread = (from: string, to: string, millilitres: number | null, happened: boolean): TaperLink => ({
  from,
  to,
  millilitres,
  happened,
});

/** Knots of the kinds of reading that are named, in the order they were read. */
export function knotsOf(readings: readonly Reading[], what: Partial<Record<ReadingKind, string>>): TaperKnot[] {
  return readings.flatMap((reading) => {
    const words = what[reading.kind];
    return words === undefined ? [] : [{ what: words, reading: reading.typed, stops: false }];
  });
}
