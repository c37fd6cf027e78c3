import type { Parsed } from './quantities.js';

/** How often a jar is read while a pack is filled: every so many jars, so many minutes, or whichever comes first. */
export interface CheckInterval {
  readonly typed: string;
  readonly jars?: number;
  readonly minutes?: number;
}

/** A tray of jars, or a quarter of an hour where filling is slow: common practice, no source. */
export const usualInterval: CheckInterval = { typed: '12 jars or 15 min', jars: 12, minutes: 15 };

const expected = 'jars, minutes or both, like 12 jars or 15 min';

/** Parses `12 jars`, `15 min`, `12 jars or 15 min`. */
export function parseCheckInterval(text: string): Parsed<CheckInterval> {
  const typed = text.trim();
  const parts = typed
    .split(/\bor\b|[,;]/iu)
    .map((part) => /^(\d{1,3})\s*(jars?|min(?:utes?)?\.?)$/iu.exec(part.trim()));
  const of = (unit: 'j' | 'm'): number[] =>
    parts.flatMap((part) => (part?.[2]?.toLowerCase().startsWith(unit) ? [Number(part[1])] : []));
  const [jars, minutes] = [of('j'), of('m')];
  const isOdd = parts.some((part) => !part || Number(part[1]) === 0) || jars.length > 1 || minutes.length > 1;
  if (isOdd) return { mismatch: { expected, got: typed === '' ? 'nothing' : `"${typed}"` } };
  return {
    value: {
      typed,
      ...(jars[0] === undefined ? {} : { jars: jars[0] }),
      ...(minutes[0] === undefined ? {} : { minutes: minutes[0] }),
    },
  };
}

/** When the next reading is due after the last one: at a time (milliseconds) and at a jar number; undefined without a limit. */
export function nextCheck(
  { jars, minutes }: CheckInterval,
  last: { readonly atMs: number; readonly jars: number },
): { readonly dueMs: number | undefined; readonly atJar: number | undefined } {
  return {
    dueMs: minutes === undefined ? undefined : last.atMs + minutes * 60_000,
    atJar: jars === undefined ? undefined : last.jars + jars,
  };
}
