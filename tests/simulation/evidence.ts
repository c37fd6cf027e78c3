import type { HiddenPack, HiddenSeason, WrittenAction } from './hidden-season.js';
import { isColdByNow } from './offset.js';

/**
 * Which jars the records show to be too cold, calculated independently of the program: plain numbers, none of its code.
 * A reading is only corrected downwards, by the checks around it; one that is too cold covers the jars from the last
 * good reading to the next.
 */
export function shownTooCold(season: HiddenSeason, pack: HiddenPack): ReadonlySet<number> {
  const cold = bracketed(readingsIn(season, pack.fillTemps, pack.packedAt), 1, pack.jars);
  return pack.actions.reduce((left, action) => afterAction(season, action, left), cold);
}

interface Reading {
  readonly jar: number | undefined;
  readonly isCold: boolean;
}

function bracketed(readings: readonly Reading[], first: number, last: number): Set<number> {
  const good = readings.flatMap(({ jar, isCold }) => (jar === undefined || isCold ? [] : [jar]));
  const jars = new Set<number>();
  for (const { jar, isCold } of readings) {
    if (!isCold) continue;
    const from = jar === undefined ? first : Math.max(first - 1, ...good.filter((each) => each < jar)) + 1;
    const to = jar === undefined ? last : Math.min(last + 1, ...good.filter((each) => each > jar)) - 1;
    for (let n = from; n <= to; n++) jars.add(n);
  }
  return jars;
}

/** Filled again and read at least every twelve jars, or gone; an action that names no jars changes nothing. */
function afterAction(season: HiddenSeason, action: WrittenAction, before: ReadonlySet<number>): Set<number> {
  const left = new Set(before);
  const [from, to] = action.jars.split('-').map(Number);
  const readings = readingsIn(season, action.fillTemps, action.at);
  if (from === undefined || to === undefined || action.jars === '') {
    return left;
  }
  if (action.way === 'destroyed') {
    for (let n = from; n <= to; n++) left.delete(n);
    return left;
  }
  const good = readings.flatMap(({ jar, isCold }) => (jar === undefined || isCold ? [] : [jar]));
  for (let n = from; n <= to; n++) if (good.some((jar) => jar >= n && jar - n < 12)) left.delete(n);
  for (const n of bracketed(readings, from, to)) left.add(n);
  return left;
}

function readingsIn(season: HiddenSeason, texts: string, at: string): Reading[] {
  const saved: string[] = [];
  for (const text of texts.split(';').filter(Boolean)) {
    if (!text.endsWith(' poured back')) saved.push(text);
    else saved.splice(saved.lastIndexOf(text.replace(' poured back', '')), 1);
  }
  return saved.map((text) => {
    const [, degrees = '', clock, id, jar] = /^([\d.]+) F(?:@(\d\d:\d\d))?(?:#(\w+))?(?: jar (\d+))?$/.exec(text) ?? [];
    const moment = clock === undefined ? at : `${at.slice(0, 11)}${clock}`;
    const shown = Number(degrees);
    const isCold = isColdByNow(season.checks, season.instruments, { id, moment, shown });
    return { jar: jar === undefined ? undefined : Number(jar), isCold };
  });
}
