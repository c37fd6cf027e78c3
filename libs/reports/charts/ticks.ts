import type { Axis, Tick } from './chart-spec.js';

/** An axis of amounts with about this many ticks at round numbers, each formatted by `text`. */
export function valueAxis(
  [from, to]: readonly [number, number],
  count: number,
  { title = null, text }: { readonly title?: string | null; readonly text?: (at: number, decimals: number) => string },
): Axis {
  const step = roundStep((to - from) / count);
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const ticks: Tick[] = [];
  for (let n = Math.ceil(from / step - 1e-9); n * step <= to + step * 1e-9; n++) {
    const at = Number((n * step).toFixed(decimals));
    ticks.push({ at, text: text ? text(at, decimals) : at.toFixed(decimals) });
  }
  return { from, to, title, ticks };
}

/** 1, 2 or 5 times a power of ten, whichever is nearest by ratio. */
function roundStep(rough: number): number {
  const power = 10 ** Math.floor(Math.log10(rough));
  const share = rough / power;
  const factor = share >= Math.sqrt(50) ? 10 : share >= Math.sqrt(10) ? 5 : share >= Math.sqrt(2) ? 2 : 1;
  return factor * power;
}

const minuteMs = 60_000;
const stepsMinutes = [1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720] as const;

/** About this many round minutes or hours of a day, as clock times. */
export function clockTicks(from: number, to: number, count: number): readonly Tick[] {
  const rough = (to - from) / count / minuteMs;
  const nearest = stepsMinutes.reduce((best, one) =>
    Math.abs(Math.log(one / rough)) < Math.abs(Math.log(best / rough)) ? one : best,
  );
  const step = nearest * minuteMs;
  const ticks: Tick[] = [];
  for (let at = Math.ceil(from / step) * step; at <= to; at += step)
    ticks.push({ at, text: new Date(at).toISOString().slice(11, 16) });
  return ticks;
}
