import { correctRefractometer } from './refractometer.js';
import type { DensityReading, Temperature } from './quantities.js';
import { brixFromDensity, sucroseDensity, waterDensity } from './sucrose.js';

export { brixFromDensity, sucroseDensity, sucroseSource, waterDensity } from './sucrose.js';

export type DensityInstrument = 'hydrometer' | 'refractometer' | 'refractometer-atc';

export interface DensityMeasurement {
  readonly reading: DensityReading;
  /** Temperature of the sample, read at the same moment. Only `refractometer-atc` does without. */
  readonly at?: Temperature | undefined;
  readonly by: DensityInstrument;
  /** What the float was made for; 60 °F when not said. */
  readonly calibratedAt?: Temperature | undefined;
}

export interface Corrected {
  /** True mass percent. */
  readonly brix: number;
  readonly brixUncertainty: number;
  /** Modulus 145, specific gravity 20/20 °C. */
  readonly baume: number;
  /** At 20 °C. */
  readonly densityKgPerM3: number;
  /** What the same instrument would have shown at its own calibration temperature, in its own scale. */
  readonly ownScale: { readonly scale: DensityReading['scale']; readonly reading: number };
  readonly because?: never;
}
/** No number: the sentence says why. */
export interface CannotCorrect {
  readonly because: string;
}

/** Expansion of the float's glass, per °C. From memory (soda-lime glass, by volume); 0.01 °Bx for each 15 °C. */
export const floatExpansionPerCelsius = 25e-6;
export const usualCalibrationCelsius = ((60 - 32) * 5) / 9;
/** 219 °F: the formula ends at 100 °C and is carried on this far, with a wider uncertainty. */
export const hottestSampleCelsius = ((219 - 32) * 5) / 9;
/** The published tables of the formula's family end at 85 °Bx (memory). */
export const thickestBrix = 85;

/** A reading as true °Bx at 20 °C with its uncertainty, or the sentence that says why there is none. */
export function correctDensity(measured: DensityMeasurement): Corrected | CannotCorrect {
  return measured.by === 'hydrometer'
    ? correctHydrometer(measured)
    : correctRefractometer(measured.reading, measured.at, measured.by === 'refractometer-atc');
}

/** °Bé of modulus 145 from °Bx, by the specific gravity 20/20 °C: the published pairs (66.9 °Bx = 36 °Bé) follow it. */
export const baume = (brix: number): number => 145 - (145 * waterAt20) / sucroseDensity(brix, 20);

export const brixFromBaume = (degreesBaume: number): number =>
  brixFromDensity((145 / (145 - degreesBaume)) * waterAt20, 20);

/** What a float shows in syrup of this density at this temperature: the reading to look for at the pan. */
export function floatReading(
  brix: number,
  sampleCelsius: number,
  scale: DensityReading['scale'] = 'Bx',
  calibratedCelsius: number = usualCalibrationCelsius,
): number {
  const expansion = 1 + floatExpansionPerCelsius * (sampleCelsius - calibratedCelsius);
  return markAt(scale, sucroseDensity(brix, sampleCelsius) * expansion, calibratedCelsius);
}

function correctHydrometer({ reading, at, calibratedAt }: DensityMeasurement): Corrected | CannotCorrect {
  if (!at)
    return {
      because: 'A hydrometer reading without the temperature of the sample at the same moment says no density.',
    };
  if (at.celsius < -1e-9 || at.celsius > hottestSampleCelsius + 1e-9) return { because: outsideHydrometer(at) };
  const made = calibratedAt?.celsius ?? usualCalibrationCelsius;
  if (made < 0 || made > 100)
    return {
      because: `A hydrometer made for ${calibratedAt?.typed ?? ''} is outside 0–100 °C, where the formula was published.`,
    };
  const floats = densityAtMark(reading, made);
  const sample = floats / (1 + floatExpansionPerCelsius * (at.celsius - made));
  const brix = brixFromDensity(sample, at.celsius);
  if (!(brix >= -0.2 && brix <= thickestBrix)) return { because: outsideBrix(reading, at, brix) };
  return corrected(
    Math.max(0, brix),
    hydrometerUncertainty(reading.scale, at.celsius, brix, made),
    reading.scale,
    made,
  );
}

/** Everything that follows from true °Bx. */
export function corrected(
  brix: number,
  brixUncertainty: number,
  scale: DensityReading['scale'],
  calibratedCelsius: number,
): Corrected {
  const densityKgPerM3 = sucroseDensity(brix, 20);
  const ownReading = scale === 'Bx' ? brix : markAt(scale, sucroseDensity(brix, calibratedCelsius), calibratedCelsius);
  return {
    brix,
    brixUncertainty,
    baume: 145 - (145 * waterAt20) / densityKgPerM3,
    densityKgPerM3,
    ownScale: { scale, reading: ownReading },
  };
}

const waterAt20 = waterDensity(20);

/** The density of the liquid in which the float, at the temperature it was made for, stands at this mark. */
function densityAtMark({ scale, reading }: DensityReading, madeCelsius: number): number {
  switch (scale) {
    case 'Bx':
      return sucroseDensity(reading, madeCelsius);
    case 'Be':
      // The Baumé side of a syrup float is drawn beside its Brix side by the published pairs, whatever its temperature.
      return sucroseDensity(brixFromBaume(reading), madeCelsius);
    case 'SG':
      return reading * waterDensity(madeCelsius);
  }
}

function markAt(scale: DensityReading['scale'], kgPerM3: number, madeCelsius: number): number {
  switch (scale) {
    case 'Bx':
      return brixFromDensity(kgPerM3, madeCelsius);
    case 'Be':
      return baume(brixFromDensity(kgPerM3, madeCelsius));
    case 'SG':
      return kgPerM3 / waterDensity(madeCelsius);
  }
}

/**
 * Half-width in °Bx, parts added as squares:
 * the float ±0.2 (read: in an Ohio State University Extension survey about half were within that);
 * its thermometer ±1 °F at 0.053 °Bx each (practice);
 * away from 60 °F the formula against the chart of the practice, up to 0.35 (worked: 0.33 at most);
 * for °Bé and SG the choice of water reference, 0.2 (worked);
 * above 100 °C the formula carried past its end, 0.1 a degree (our own guess, wide on purpose).
 */
function hydrometerUncertainty(
  scale: DensityReading['scale'],
  sampleCelsius: number,
  brix: number,
  madeCelsius: number,
): number {
  const away = Math.min(1, Math.abs(sampleCelsius - madeCelsius) / 11);
  const chart = 0.35 * away * Math.min(1, Math.max(0, brix) / 60);
  const reference = scale === 'Bx' ? 0 : 0.2;
  const beyond = Math.max(0, sampleCelsius - 100) * 0.1;
  return Math.sqrt(0.2 ** 2 + 0.053 ** 2 + chart ** 2 + reference ** 2 + beyond ** 2);
}

function outsideHydrometer(at: Temperature): string {
  return (
    `The sample was at ${at.typed}, outside 32–219 °F (0–104 °C): the density formula was published for 0–100 °C ` +
    'and is carried no further than 219 °F. Let the sample come into that range and read again.'
  );
}

function outsideBrix(reading: DensityReading, at: Temperature, brix: number): string {
  return brix < 0
    ? `${reading.typed} at ${at.typed} would be lighter than water: read the hydrometer and the thermometer again.`
    : `${reading.typed} at ${at.typed} would be thicker than ${thickestBrix} °Bx, past the end of the published tables.`;
}
