import { formatHours } from '../quantities/format-quantities.js';
import { findingOf } from './rules.js';
import type { Finding } from './verdict.js';

/** Instants of a boil in milliseconds; what was not recorded is absent. */
export interface BoilTimes {
  readonly lot: string;
  readonly beganMs?: number | undefined;
  readonly finishedMs?: number | undefined;
  readonly restedUntilMs?: number | undefined;
  /** Of its first draw-off: drawn syrup may be packed while the boil goes on. */
  readonly firstDrawnMs?: number | undefined;
}

/** Syrup in bulk is packed through the year; after more the year is probably mistyped. */
const longestStoredDays = 365;
const hourMs = 3_600_000;

/** Sentences about a pack’s time that contradicts the times of its boils; shown on saving, and in advisories. */
export const packTimeSentences = (packedMs: number, boils: readonly BoilTimes[]): string[] =>
  boils.flatMap(({ lot, beganMs, finishedMs, restedUntilMs, firstDrawnMs }) => {
    const isDrawnBefore = firstDrawnMs !== undefined && firstDrawnMs <= packedMs;
    const days = beganMs === undefined ? 0 : Math.floor((packedMs - beganMs) / (24 * hourMs));
    return [
      ...(finishedMs !== undefined && finishedMs > packedMs && !isDrawnBefore
        ? [`packed ${formatHours((finishedMs - packedMs) / hourMs)} before boil ${lot} ended. Which time is wrong?`]
        : []),
      ...(restedUntilMs !== undefined && restedUntilMs > packedMs
        ? [
            `boil ${lot} rested until ${formatHours((restedUntilMs - packedMs) / hourMs)} after this was packed. Which time is wrong?`,
          ]
        : []),
      ...(days > longestStoredDays ? [`packed ${days} days after boil ${lot} began. Is the year right?`] : []),
    ];
  });

/** The advisories on a pack’s time. */
export const judgePackTimes = (packedMs: number | undefined, boils: readonly BoilTimes[]): Finding[] =>
  packedMs === undefined ? [] : packTimeSentences(packedMs, boils).map(timesOutOfOrder);

/** Sap of a boil, with when it was gathered or received. */
export interface SapTimes {
  readonly lot: string;
  readonly atMs: number;
}

/** Sentences on sap that was gathered after the boil it went into had ended. */
export const sapTimeSentences = (
  boil: { readonly lot: string; readonly finishedMs?: number | undefined },
  sap: readonly SapTimes[],
): string[] =>
  sap
    .filter(({ atMs }) => boil.finishedMs !== undefined && atMs > boil.finishedMs)
    .map(({ lot, atMs }) => {
      const late = formatHours((atMs - (boil.finishedMs ?? atMs)) / hourMs);
      return `${lot} was gathered ${late} after ${boil.lot} ended, which it went into. Which date is wrong?`;
    });

/** An advisory on times that can’t both be right. */
export const timesOutOfOrder = (found: string): Finding =>
  findingOf('times-out-of-order', { limit: 'sap gathered, boiled, rested and packed in this order', found });
