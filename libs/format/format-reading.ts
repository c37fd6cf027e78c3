import type { Portion } from '#libs/records/portion.js';
import { formatTemperature } from '#libs/syrup/quantities/format-quantities.js';
import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';

/** `188 °F at 10:05, thermometer T1, jars 9-16`: a reading in the jar in plain words. */
export function formatFillReading(fill: FillReading): string {
  return [
    `${formatTemperature(fill.temperature)}${fill.clock === undefined ? '' : ` at ${formatFillClock(fill.clock)}`}`,
    ...(fill.thermometer === undefined ? [] : [`thermometer ${fill.thermometer}`]),
    ...(fill.jars === undefined ? [] : [fill.jars]),
    ...(fill.pouredBack ? ['poured back'] : []),
  ].join(', ');
}

/** `14:10`, with the day where it is another than the pack's: `22:10 on 2026-03-18`. */
export const formatFillClock = (clock: string): string =>
  clock.includes('T') ? `${clock.slice(11, 16)} on ${clock.slice(0, 10)}` : clock;

/** `3 gal of 26077A`, `all that was left of G041`. */
export const formatPortion = ({ lot, typed }: Pick<Portion, 'lot' | 'typed'>): string =>
  `${typed === '' ? 'all that was left' : typed} of ${lot}`;
