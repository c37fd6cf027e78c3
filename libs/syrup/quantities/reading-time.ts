import type { FillReading } from './fill-readings.js';

/** A fill reading with the moment it was taken, where that is known. */
export interface TakenReading extends FillReading {
  readonly atMs?: number | undefined;
}

const halfDayMs = 12 * 3_600_000;

/**
 * When a reading was taken, in milliseconds: its clock time on the day of the pack (`at`, ISO), or in the night after it;
 * without a clock time, at the pack’s own time.
 */
export function readingTimeMs(clock: string | undefined, at: string): number {
  const packed = Date.parse(at);
  if (clock === undefined) return packed;
  const offset = /(?:Z|[+-]\d\d:\d\d)$/.exec(at)?.[0] ?? '';
  if (clock.includes('T')) return Date.parse(/(?:Z|[+-]\d\d:\d\d)$/i.test(clock) ? clock : `${clock}${offset}`);
  const sameDay = Date.parse(`${at.slice(0, 11)}${clock}${offset}`);
  return sameDay < packed - halfDayMs ? sameDay + 2 * halfDayMs : sameDay;
}

/** Formats a moment as ISO text, with the offset from UTC of the ISO text `like`. */
export function isoInOffsetOf(like: string, atMs: number): string {
  const offset = /([+-])(\d\d):(\d\d)$/.exec(like);
  if (!offset) return new Date(atMs).toISOString();
  const minutes = (offset[1] === '-' ? -1 : 1) * (Number(offset[2]) * 60 + Number(offset[3]));
  return `${new Date(atMs + minutes * 60_000).toISOString().slice(0, 19)}${offset[0]}`;
}

/** The readings of a pack or an action at `at`, with the moments they were taken. */
export const withReadingTimes = (fills: readonly FillReading[], at: string): TakenReading[] =>
  fills.map((fill) => ({ ...fill, atMs: readingTimeMs(fill.clock, at) }));
