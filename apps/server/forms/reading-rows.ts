import type { Posted } from './field-view.js';

/** A reading in the jar as the page asks for it: a box each, for nobody should have to know how they are written together. */
export interface ReadingRow {
  readonly n: number;
  readonly temp: string;
  readonly jars: string;
  readonly clock: string;
  readonly thermometer: string;
}

/** In sight at first, and in all: a longer list comes as a file. */
export const rowsInSight = 6;
const mostRows = 30;

export function readingRows(name: string, posted: Posted): ReadingRow[] {
  const box = (n: number, part: string): string => {
    const value = posted[`${name}~row~${n}~${part}`];
    return typeof value === 'string' ? value.trim() : '';
  };
  return Array.from({ length: mostRows }, (_, index) => {
    const n = index + 1;
    return {
      n,
      temp: box(n, 'temp'),
      jars: box(n, 'jars'),
      clock: box(n, 'clock'),
      thermometer: box(n, 'thermometer'),
    };
  });
}

/** The rows that were filled, each as a line of the record has it. */
export function readingLines(name: string, posted: Posted): string[] {
  if (!Object.keys(posted).some((key) => key.startsWith(`${name}~row~`))) return [];
  return readingRows(name, posted)
    .filter((row) => row.temp !== '' || row.jars !== '' || row.clock !== '' || row.thermometer !== '')
    .map(
      ({ temp, jars, clock, thermometer }) =>
        temp + (clock && `@${clock}`) + (thermometer && `#${thermometer}`) + (jars && ` ${jarsText(jars)}`),
    );
}

/** `12` is one jar and `9-16` several; `tray 2` says what it is. */
const jarsText = (jars: string): string =>
  /^\d+$/.test(jars) ? `jar ${jars}` : /^[\d\s,–-]+$/.test(jars) ? `jars ${jars}` : jars;
