import type { DensityReading } from '../quantities/quantities.js';
import { brixFromDensity, sucroseDensity, waterDensity } from './sucrose.js';

/** A density corrected to 20 °C. */
export interface Corrected {
  /** True mass percent. */
  readonly brix: number;
  readonly brixUncertainty: number;
  /** Modulus 145, specific gravity 20/20 °C. */
  readonly baume: number;
  /** At 20 °C. */
  readonly densityKgPerM3: number;
  /** What the same instrument would have read at its own calibration temperature, in its own scale. */
  readonly ownScale: { readonly scale: DensityReading['scale']; readonly reading: number };
  readonly because?: never;
}
/** Why there is no result, which part of the measurement is at fault, and what would have been accepted. */
export interface CannotCorrect {
  readonly because: string;
  readonly part: 'reading' | 'at' | 'calibratedAt';
  readonly expected: string;
}

/** °Bx. The published tables for this formula end here (from memory, not verified). */
export const thickestBrix = 85;

/** Builds a `Corrected` from true °Bx, for an instrument of this scale and calibration temperature. */
export function correctedFromBrix(
  brix: number,
  brixUncertainty: number,
  scale: DensityReading['scale'],
  calibratedCelsius: number,
): Corrected {
  const densityKgPerM3 = sucroseDensity(brix, 20);
  const reading = scale === 'Bx' ? brix : readingAt(scale, sucroseDensity(brix, calibratedCelsius), calibratedCelsius);
  return {
    brix,
    brixUncertainty,
    baume: 145 - (145 * waterAt20) / densityKgPerM3,
    densityKgPerM3,
    ownScale: { scale, reading },
  };
}

/**
 * °Bé of modulus 145 from °Bx, by the specific gravity 20/20 °C. The published pairs follow it:
 * 66.0 °Bx = 35.6 °Bé, 66.9 = 36, 68.9 = 37 (by 60/60 °F they would be 35.7, 36.1, 37.1).
 */
export const baume = (brix: number): number => 145 - (145 * waterAt20) / sucroseDensity(brix, 20);

/** °Bx of a reading in °Bé, modulus 145 with specific gravity at 20/20 °C. */
export const brixFromBaume = (degreesBaume: number): number =>
  brixFromDensity((145 / (145 - degreesBaume)) * waterAt20, 20);

/**
 * A density given directly, not read off a hydrometer in a sample, as °Bx: `36 Be`, `1.33 SG` (20/20 °C). Undefined
 * outside 0–85.
 */
export function trueBrix({ scale, reading }: DensityReading): number | undefined {
  const brix =
    scale === 'Bx' ? reading : scale === 'Be' ? brixFromBaume(reading) : brixFromDensity(reading * waterAt20, 20);
  return brix >= -1e-6 && brix <= thickestBrix + 1e-9 ? Math.max(0, brix) : undefined;
}

/** The density of the liquid in which a hydrometer, at its calibration temperature, floats at this reading. */
export function densityAtReading(
  { scale, reading }: Pick<DensityReading, 'scale' | 'reading'>,
  madeCelsius: number,
): number {
  switch (scale) {
    case 'Bx':
      return sucroseDensity(reading, madeCelsius);
    case 'Be':
      // The Baumé scale of a syrup hydrometer is printed beside its Brix scale by the published pairs, whatever its
      // temperature.
      return sucroseDensity(brixFromBaume(reading), madeCelsius);
    case 'SG':
      return reading * waterDensity(madeCelsius);
  }
}

/** The reading of a hydrometer with this calibration temperature in a liquid of this density. */
export function readingAt(scale: DensityReading['scale'], kgPerM3: number, madeCelsius: number): number {
  switch (scale) {
    case 'Bx':
      return brixFromDensity(kgPerM3, madeCelsius);
    case 'Be':
      return baume(brixFromDensity(kgPerM3, madeCelsius));
    case 'SG':
      return kgPerM3 / waterDensity(madeCelsius);
  }
}

const waterAt20 = waterDensity(20);
