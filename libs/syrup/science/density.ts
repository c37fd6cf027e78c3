import {
  correctedFromBrix,
  densityAtReading,
  readingAt,
  thickestBrix,
  type CannotCorrect,
  type Corrected,
} from './corrected.js';
import type { DensityReading, Temperature } from '../quantities/quantities.js';
import { correctRefractometer } from './refractometer.js';
import { brixFromDensity, sucroseDensity } from './sucrose.js';

export { baume, type CannotCorrect, type Corrected } from './corrected.js';

export type DensityInstrument = 'hydrometer' | 'refractometer' | 'refractometer-atc';

export interface DensityMeasurement {
  readonly reading: DensityReading;
  /** Temperature of the sample, read at the same moment. Only `refractometer-atc` doesn't need it. */
  readonly at?: Temperature | undefined;
  readonly by: DensityInstrument;
  /** The hydrometer's calibration temperature; 60 °F by default. */
  readonly calibratedAt?: Temperature | undefined;
}

/**
 * Expansion of the hydrometer's glass by volume, per °C. From memory (soda-lime glass); it changes a reading at 100 °C
 * by 0.5 °Bx.
 */
export const hydrometerExpansionPerCelsius = 25e-6;
export const usualCalibrationCelsius = ((60 - 32) * 5) / 9;
/** 219 °F: the formula ends at 100 °C and is extrapolated to here, with a wider uncertainty. */
export const hottestSampleCelsius = ((219 - 32) * 5) / 9;

/** A reading as true °Bx at 20 °C with its uncertainty, or the sentence that says why there is none. */
export function correctDensity(measured: DensityMeasurement): Corrected | CannotCorrect {
  return measured.by === 'hydrometer'
    ? correctHydrometer(measured)
    : correctRefractometer(measured.reading, measured.at, measured.by === 'refractometer-atc');
}

/** The reading of a hydrometer in syrup of this °Bx at this temperature: the target at the pan. */
export function hydrometerReading(
  brix: number,
  sampleCelsius: number,
  scale: DensityReading['scale'] = 'Bx',
  calibratedCelsius: number = usualCalibrationCelsius,
): number {
  const expansion = 1 + hydrometerExpansionPerCelsius * (sampleCelsius - calibratedCelsius);
  return readingAt(scale, sucroseDensity(brix, sampleCelsius) * expansion, calibratedCelsius);
}

/**
 * A hydrometer floats where the displaced syrup weighs as much as the hydrometer: density at the reading, at its
 * calibration temperature = density of the sample × the hydrometer's own expansion.
 */
function correctHydrometer({ reading, at, calibratedAt }: DensityMeasurement): Corrected | CannotCorrect {
  if (!at) return withoutTemperature;
  if (at.celsius < -1e-9 || at.celsius > hottestSampleCelsius + 1e-9) return outsideHydrometer(at);
  const made = calibratedAt?.celsius ?? usualCalibrationCelsius;
  if (made < -1e-9 || made > 100 + 1e-9) return outsideCalibration(calibratedAt);
  const floats = densityAtReading(reading, made);
  const sample = floats / (1 + hydrometerExpansionPerCelsius * (at.celsius - made));
  const brix = brixFromDensity(sample, at.celsius);
  if (!(brix >= -0.2 && brix <= thickestBrix + 1e-9)) return outsideBrix(reading, at, brix);
  const uncertainty = hydrometerUncertainty(reading.scale, at.celsius - made, at.celsius, brix);
  return correctedFromBrix(Math.max(0, brix), uncertainty, reading.scale, made);
}

/**
 * Half-width in °Bx, parts added as squares:
 * the hydrometer ±0.2 (read: in an Ohio State University Extension survey about half were within that);
 * its thermometer ±1 °F at 0.053 °Bx each (practice);
 * away from its own temperature the formula against the chart in use, up to 0.35 (worked: 0.33 at most);
 * for °Bé and SG the choice of water reference, 0.2 (worked);
 * above 100 °C the extrapolated formula, 0.1 a degree (our own estimate, wide on purpose).
 */
function hydrometerUncertainty(
  scale: DensityReading['scale'],
  awayCelsius: number,
  sampleCelsius: number,
  brix: number,
): number {
  const chart = 0.35 * Math.min(1, Math.abs(awayCelsius) / 11) * Math.min(1, Math.max(0, brix) / 60);
  const reference = scale === 'Bx' ? 0 : 0.2;
  const beyond = Math.max(0, sampleCelsius - 100) * 0.1;
  return Math.sqrt(0.2 ** 2 + 0.053 ** 2 + chart ** 2 + reference ** 2 + beyond ** 2);
}

const withoutTemperature: CannotCorrect = {
  because: 'A hydrometer reading can’t be corrected without the temperature of the sample, read at the same moment.',
  part: 'at',
  expected: 'the temperature of the sample, read at the same moment as the hydrometer',
};

const outsideHydrometer = (at: Temperature): CannotCorrect => ({
  because:
    `The sample was at ${at.typed}, outside 32–219 °F (0–104 °C): the density formula was published for 0–100 °C ` +
    'and is not used past 219 °F. Let the sample cool or warm into that range and read again.',
  part: 'at',
  expected: 'a sample at 32–219 °F (0–104 °C), since the formula was published for 0–100 °C',
});

const outsideCalibration = (made: Temperature | undefined): CannotCorrect => ({
  because: `A hydrometer made for ${made?.typed ?? 'no temperature'} is outside 0–100 °C, where the density formula was published.`,
  part: 'calibratedAt',
  expected:
    'a calibration temperature like 60 F or 68 F, not outside 0–100 °C, where the density formula was published',
});

const outsideBrix = (reading: DensityReading, at: Temperature, brix: number): CannotCorrect => ({
  because:
    brix < 0
      ? `${reading.typed} at ${at.typed} would be lighter than water: read the hydrometer and the thermometer again.`
      : `${reading.typed} at ${at.typed} would be thicker than ${thickestBrix} °Bx, past the end of the published tables.`,
  part: 'reading',
  expected: `a reading that comes to 0–${thickestBrix} °Bx, where the formula was published`,
});
