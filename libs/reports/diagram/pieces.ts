import type { Reading, ReadingKind } from '../season/lot.js';
import type { DiagramDot, DiagramLink, DiagramNode } from './shape.js';

/** A lot, or a destination of jars, as a node of the diagram. */
export const createNode = (
  id: string,
  stage: DiagramNode['stage'],
  name: string,
  amount: string,
  millilitres: number | null,
): DiagramNode => ({
  id,
  stage,
  name,
  amount,
  millilitres,
  happened: true,
  dots: [],
});

/** The flow from one node to another, in millilitres; null where it is not known. */
export const createLink = (from: string, to: string, millilitres: number | null, happened: boolean): DiagramLink => ({
  from,
  to,
  millilitres,
  happened,
});

/** Dots for the named kinds of reading, in the order they were read. */
export function dotsOf(readings: readonly Reading[], what: Partial<Record<ReadingKind, string>>): DiagramDot[] {
  return readings.flatMap((reading) => {
    const text = what[reading.kind];
    return text === undefined ? [] : [{ what: text, reading: reading.typed, hasStop: false }];
  });
}
