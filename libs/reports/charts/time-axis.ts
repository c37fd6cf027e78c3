import type { Axis } from './chart-spec.js';
import { clockTicks } from './ticks.js';
import { plotOf, textWidth, withEnds, type ChartShape } from './chart-shape.js';
import { shortDay } from '#libs/format/format.js';

/** Local time as if it were UTC, so that the machine's own zone shifts no day. */
export const wallClockMs = (iso: string): number => Date.parse(`${iso.slice(0, 16)}Z`);

/** The span of an axis; a single moment is in the middle of its span. */
export function timeSpan(times: readonly number[]): readonly [number, number] {
  if (times.length === 0) return [0, dayMs];
  const [first, last] = [times.reduce((a, b) => Math.min(a, b)), times.reduce((a, b) => Math.max(a, b))];
  const aroundMs = times.every(isMidnight) ? dayMs / 2 : hourMs / 2;
  return first === last ? [first - aroundMs, last + aroundMs] : [first, last];
}

/** Whether all are on one day: the axis then has hours, and a second line with the day. */
export function isHourly(times: readonly number[]): boolean {
  const [from, to] = timeSpan(times);
  return times.length > 0 && !times.every(isMidnight) && dayOf(from) === dayOf(to);
}

/** Days along the bottom, as many as are readable; for a single day its hours, with the day below. */
export function timeAxis(times: readonly number[], shape: ChartShape): Axis {
  const [from, to] = timeSpan(times);
  if (isHourly(times))
    return { from, to, title: dayText(from), ticks: clockTicks(from, to, Math.min(6, maxLabels(shape))) };
  return { from, to, title: null, ticks: dayTicks(from, to, times, shape).map((at) => ({ at, text: dayText(at) })) };
}

/** The shape with room for these line texts and this axis. */
export const shapeWithRoom = (shape: ChartShape, ends: readonly string[], times: readonly number[]): ChartShape => ({
  ...withEnds(shape, ends),
  linesBelow: isHourly(times) ? 2 : 1,
});

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const isMidnight = (at: number): boolean => at % dayMs === 0;
const dayOf = (at: number): number => Math.floor(at / dayMs);
const dayText = (at: number): string => {
  const iso = new Date(at).toISOString();
  return shortDay(iso, Number(iso.slice(0, 4)));
};

/** A label takes its own width and as much space beside it. */
const maxLabels = (shape: ChartShape): number =>
  Math.max(2, Math.floor(plotOf(shape).width / (1.5 * textWidth('24 Mar', shape))));

/** Midnights at equal steps from the first day, none before the first point where the step allows it. */
function dayTicks(from: number, to: number, times: readonly number[], shape: ChartShape): number[] {
  if (times.length > 0 && dayOf(from) + 1 === dayOf(to) && !times.every(isMidnight)) return [dayOf(to) * dayMs];
  const days = [...new Set(times.map(dayOf))];
  if (days.length === 1) return days.map((day) => day * dayMs);
  const first = isMidnight(from) ? dayOf(from) : dayOf(from) + 1;
  const step = Math.max(1, Math.ceil((dayOf(to) - first + 1) / maxLabels(shape)));
  const ticks: number[] = [];
  for (let day = first; day <= dayOf(to); day += step) ticks.push(day * dayMs);
  return ticks;
}
