import type { ReadingRow } from '#pages/parts/field-view.js';
import type { Posted } from './field-view.js';

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
    .map(readingText);
}

/** `186 F@10:10#T1 jar 12`, out of the boxes of one row. */
export const readingText = ({ temp, jars, clock, thermometer }: Omit<ReadingRow, 'n'>): string =>
  temp + (clock && `@${clock}`) + (thermometer && `#${thermometer}`) + (jars && ` ${jarsText(jars)}`);

/** `12` is one jar and `9-16` several; `tray 2` says what it is. */
const jarsText = (jars: string): string =>
  /^\d+$/.test(jars) ? `jar ${jars}` : /^[\d\s,–-]+$/.test(jars) ? `jars ${jars}` : jars;
