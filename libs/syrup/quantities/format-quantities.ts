import type { DensityReading, Temperature } from './quantities.js';

/**
 * A temperature as typed, with normalised spacing and sign: `186 F` → `186 °F`. Never converted, and no digit added or
 * lost.
 */
export const formatTemperature = (temperature: Temperature): string =>
  `${numberAsTyped(temperature.typed) ?? temperature.degrees} °${temperature.unit}`;

/** A temperature as typed, in the spelling that releases store: `178,5F` → `178.5 F`. */
export const temperatureAsTyped = (temperature: Temperature): string =>
  `${numberAsTyped(temperature.typed) ?? temperature.degrees} ${temperature.unit}`;

/** A density as typed, with normalised spacing and unit: `66,9brix` → `66.9 °Bx`. */
export function formatDensity(density: DensityReading): string {
  const number = numberAsTyped(density.typed) ?? density.reading;
  return density.scale === 'SG' ? `SG ${number}` : `${number} °${density.scale === 'Be' ? 'Bé' : 'Bx'}`;
}

/** Formats a duration: `10 h`, `11 h 30 min`, `20 min`. */
export function formatHours(hours: number): string {
  const minutes = Math.floor(hours * 60 + 1e-6);
  const whole = Math.floor(minutes / 60);
  const rest = minutes % 60;
  if (whole === 0) return `${rest} min`;
  return rest === 0 ? `${whole} h` : `${whole} h ${rest} min`;
}

/** The English ordinal of a number from 1: first, second … tenth, 11th, 22nd. */
export function ordinal(place: number): string {
  const word = ordinals[place - 1];
  if (word) return word;
  const teens = place % 100 >= 11 && place % 100 <= 13;
  const ending = teens ? 'th' : (['th', 'st', 'nd', 'rd'][place % 10] ?? 'th');
  return `${place}${ending}`;
}

/** A number with at most this many decimals and no trailing zeros: 5, 7.3. */
export const formatRounded = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)));

const ordinals = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth', 'ninth', 'tenth'];

function numberAsTyped(typed: string): string | undefined {
  const found = /\d+(?:[.,]\d+)?|[.,]\d+/u.exec(typed);
  if (!found) return undefined;
  const sign = typed.slice(0, found.index).trimEnd().at(-1) ?? '';
  return `${['-', '−'].includes(sign) ? sign : ''}${found[0].replace(',', '.')}`;
}
