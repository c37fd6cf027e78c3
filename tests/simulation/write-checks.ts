import type { Random } from '../generator/random.js';
import { type Habits, happens } from './habits.js';
import type { WrittenCheck } from './hidden-season.js';

/** A thermometer as it truly is, which nobody knows. */
export interface TrueThermometer {
  readonly id: string;
  /** What it adds to 32 °F and to 212 °F. */
  ice: number;
  boiling: number;
}

/** Where water boils at the sugarhouse, in °F. */
const boilsAt = 210.4;

/** What it shows in something of so many °F. */
export const shownBy = (of: TrueThermometer, truly: number): number =>
  truly + of.ice + ((of.boiling - of.ice) * (truly - 32)) / (boilsAt - 32);

/** To half a degree, as a dial is read. */
export const halfDegree = (degrees: number): number => Math.round(degrees * 2) / 2;

type Point = 'ice' | 'boiling-water';
const trulyAt = { ice: 32, 'boiling-water': boilsAt } as const;

/** Checks of a day as people make them unasked: one thermometer in five is left out, at one point or at both. */
export function writeChecks(
  random: Random,
  thermometers: readonly TrueThermometer[],
  day: string,
  checks: WrittenCheck[],
  clock = 'T07:00',
): void {
  for (const each of thermometers) {
    if (random.oneIn(5)) continue;
    const points = random.of<readonly Point[]>([['ice'], ['boiling-water'], ['ice', 'boiling-water']]);
    const isOut = Math.max(Math.abs(each.ice), Math.abs(each.boiling)) > 2.3;
    const adjusts = isOut && random.oneIn(2);
    for (const how of points) {
      const reads = halfDegree(shownBy(each, trulyAt[how]) + random.whole(-2, 2) / 10);
      write(checks, { of: each, how, reads, at: `${day}${clock}`, done: adjusts ? 'adjusted by its nut' : '' });
    }
    if (!adjusts) continue;
    // Set right at the points that were looked at; checked again at once, as the paper with it says.
    each.ice = 0;
    each.boiling = 0;
    for (const how of points) {
      const reads = halfDegree(shownBy(each, trulyAt[how]));
      write(checks, { of: each, how, reads, at: `${day}${clock.slice(0, 4)}30`, done: '' });
    }
  }
}

/**
 * The check that the quick form asks for, at one point, half an hour before the first jar. One found more than 2 °F out
 * is set right by its nut, which moves its whole scale, and checked again; who doesn't goes on with what it is out.
 */
export function checkFirst(
  random: Random,
  of: TrueThermometer,
  { day, checks, habits }: { readonly day: string; readonly checks: WrittenCheck[]; readonly habits: Habits },
): void {
  const point: Point = happens(random, habits.inIce ?? 0.25) ? 'ice' : 'boiling-water';
  const reads = halfDegree(shownBy(of, trulyAt[point]) + random.whole(-2, 2) / 10);
  const isOutBy = reads - trulyAt[point];
  const adjusts = Math.abs(isOutBy) > 2 && happens(random, habits.whenFoundWrong);
  write(checks, { of, how: point, reads, at: `${day}T09:30`, done: adjusts ? 'adjusted by its nut' : '' });
  if (!adjusts) return;
  of.ice -= isOutBy;
  of.boiling -= isOutBy;
  const again = halfDegree(shownBy(of, trulyAt[point]) + random.whole(-2, 2) / 10);
  write(checks, { of, how: point, reads: again, at: `${day}T09:40`, done: '' });
}

/** Whether it was checked on that day. */
export const wasCheckedOn = (day: string, id: string, checks: readonly WrittenCheck[]): boolean =>
  checks.some(({ instrument, at }) => instrument === id && at.startsWith(day));

interface Seen {
  readonly of: TrueThermometer;
  readonly how: Point;
  readonly reads: number;
  readonly at: string;
  readonly done: string;
}

function write(checks: WrittenCheck[], { of, how, reads, at, done }: Seen): void {
  const id = `CK${checks.length + 1}`;
  checks.push({ id, instrument: of.id, at, how, should: `${trulyAt[how]} F`, reads: `${reads} F`, done });
}
