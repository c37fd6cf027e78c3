import { correctedFromBrix, thickestBrix, type CannotCorrect, type Corrected } from './corrected.js';
import type { DensityReading, Temperature } from '../quantities/quantities.js';

/**
 * A refractometer's °Bx corrected to 20 °C. A reading with automatic temperature compensation is used as it is. Outside
 * 10–30 °C nothing is corrected: hot syrup in a hand refractometer dries and cools on the prism.
 */
export function correctRefractometer(
  reading: DensityReading,
  at: Temperature | undefined,
  compensates: boolean,
): Corrected | CannotCorrect {
  if (reading.scale !== 'Bx') return otherScale(reading);
  if (reading.reading > thickestBrix) return tooThick(reading);
  if (!at && !compensates) return withoutTemperature;
  if (at && (at.celsius < 10 - 1e-9 || at.celsius > 30 + 1e-9)) return outsidePrism(at);
  if (compensates || !at) return correctedFromBrix(reading.reading, 0.25, 'Bx', 20);
  const brix = reading.reading + refractometerCorrection(reading.reading, at.celsius);
  if (brix < -0.2) return lessThanWater(reading, at);
  return correctedFromBrix(Math.max(0, brix), uncertaintyAt(at.celsius), 'Bx', 20);
}

/** °Bx to add to a reading at this temperature; linear between the rows and columns of the table. */
export function refractometerCorrection(readingBrix: number, celsius: number): number {
  const row = Math.min(refractometerRows.length - 2, Math.max(0, Math.floor(celsius + 1e-9) - 10));
  const column = Math.min(14, Math.max(0, readingBrix) / 5);
  const part = Math.min(1, Math.max(0, celsius - 10 - row));
  const colder = interpolateRow(refractometerRows[row], column);
  return colder + part * (interpolateRow(refractometerRows[row + 1], column) - colder);
}

export interface RefractometerRow {
  readonly celsius: number;
  readonly mark: 'read' | 'memory' | 'zero';
  /** Hundredths of a °Bx to add, for readings of 0, 5, 10 … 70 °Bx. */
  readonly hundredths: readonly number[];
}

export const refractometerSource =
  'refractometer correction to 20 °C: OIV-MA-AS2-02 Table I for 10–17 °C and 21 °C (read); the rest from the ' +
  'international table of 1966 as remembered, to be checked';

/**
 * Rows 10–17 °C from 10 °Bx up: OIV-MA-AS2-02 Table I (read). The columns 0 and 5 °Bx (sap) and the other rows are the
 * international table of 1966 from memory; they join the read rows within 0.02.
 */
export const refractometerRows: readonly RefractometerRow[] = [
  {
    celsius: 10,
    mark: 'read',
    hundredths: [-50, -54, -59, -62, -65, -67, -69, -71, -72, -73, -74, -75, -75, -75, -75],
  },
  {
    celsius: 11,
    mark: 'read',
    hundredths: [-46, -49, -54, -57, -59, -61, -63, -64, -65, -66, -67, -68, -68, -68, -68],
  },
  {
    celsius: 12,
    mark: 'read',
    hundredths: [-42, -45, -49, -51, -53, -55, -56, -57, -58, -59, -60, -60, -61, -61, -60],
  },
  {
    celsius: 13,
    mark: 'read',
    hundredths: [-37, -40, -43, -45, -47, -48, -50, -51, -52, -52, -53, -53, -53, -53, -53],
  },
  {
    celsius: 14,
    mark: 'read',
    hundredths: [-33, -35, -38, -39, -40, -42, -43, -44, -44, -45, -45, -46, -46, -46, -46],
  },
  {
    celsius: 15,
    mark: 'read',
    hundredths: [-27, -29, -32, -33, -34, -35, -36, -37, -37, -38, -38, -38, -38, -38, -38],
  },
  {
    celsius: 16,
    mark: 'read',
    hundredths: [-22, -24, -26, -27, -28, -28, -29, -30, -30, -30, -31, -31, -31, -31, -31],
  },
  {
    celsius: 17,
    mark: 'read',
    hundredths: [-17, -18, -20, -20, -21, -21, -22, -22, -23, -23, -23, -23, -23, -23, -23],
  },
  {
    celsius: 18,
    mark: 'memory',
    hundredths: [-12, -13, -13, -14, -14, -14, -14, -15, -15, -15, -15, -16, -16, -16, -16],
  },
  { celsius: 19, mark: 'memory', hundredths: [-6, -6, -6, -7, -7, -7, -7, -8, -8, -8, -8, -8, -8, -8, -8] },
  { celsius: 20, mark: 'zero', hundredths: [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0] },
  { celsius: 21, mark: 'read', hundredths: [6, 7, 7, 7, 7, 8, 8, 8, 8, 8, 8, 8, 8, 8, 8] },
  { celsius: 22, mark: 'memory', hundredths: [13, 13, 14, 14, 15, 15, 15, 15, 16, 16, 16, 16, 16, 16, 16] },
  { celsius: 23, mark: 'memory', hundredths: [19, 20, 21, 22, 22, 23, 23, 23, 23, 24, 24, 24, 24, 24, 24] },
  { celsius: 24, mark: 'memory', hundredths: [26, 27, 28, 29, 30, 30, 31, 31, 31, 31, 31, 32, 32, 32, 32] },
  { celsius: 25, mark: 'memory', hundredths: [33, 35, 36, 37, 38, 38, 39, 40, 40, 40, 40, 40, 40, 40, 40] },
  { celsius: 26, mark: 'memory', hundredths: [40, 42, 43, 44, 45, 46, 47, 48, 48, 48, 48, 48, 48, 48, 48] },
  { celsius: 27, mark: 'memory', hundredths: [48, 50, 52, 53, 54, 55, 55, 56, 56, 56, 56, 56, 56, 56, 56] },
  { celsius: 28, mark: 'memory', hundredths: [56, 57, 60, 61, 62, 63, 63, 64, 64, 64, 64, 64, 64, 64, 64] },
  { celsius: 29, mark: 'memory', hundredths: [64, 66, 68, 69, 71, 72, 72, 73, 73, 73, 73, 73, 73, 73, 73] },
  { celsius: 30, mark: 'memory', hundredths: [72, 74, 77, 78, 79, 80, 80, 81, 81, 81, 81, 81, 81, 81, 81] },
];

function interpolateRow(row: RefractometerRow | undefined, column: number): number {
  const left = Math.min(13, Math.floor(column));
  const [a, b] = [row?.hundredths[left] ?? 0, row?.hundredths[left + 1] ?? 0];
  return (a + (column - left) * (b - a)) / 100;
}

/** Instrument ±0.2, thermometer ±1 °F, sugars other than sucrose 0.1 (practice); a row from memory 0.1 more. */
const uncertaintyAt = (celsius: number): number =>
  Math.sqrt(0.2 ** 2 + 0.043 ** 2 + 0.1 ** 2 + (celsius > 21 ? 0.1 ** 2 : 0));

const otherScale = ({ typed }: DensityReading): CannotCorrect => ({
  because: `A refractometer is read in °Bx, and ${typed} is not: type the Brix scale.`,
  part: 'reading',
  expected: 'the Brix scale of the refractometer, like 66.9 Bx',
});

const tooThick = ({ typed }: DensityReading): CannotCorrect => ({
  because: `${typed} is thicker than ${thickestBrix} °Bx, past the end of the published tables.`,
  part: 'reading',
  expected: `a reading of 0–${thickestBrix} °Bx, where the table was published`,
});

const withoutTemperature: CannotCorrect = {
  because:
    'The reading of a refractometer without temperature compensation can’t be corrected without the temperature of the sample.',
  part: 'at',
  expected: 'the temperature of the sample, for a refractometer without temperature compensation',
};

const lessThanWater = ({ typed }: DensityReading, at: Temperature): CannotCorrect => ({
  because: `${typed} at ${at.typed} would be less than water: set the zero of the refractometer again.`,
  part: 'reading',
  expected: 'a reading above water: set the zero of the refractometer again',
});

const hot = 'Hot syrup in a hand refractometer cannot be corrected: let a covered sample cool, or use a hydrometer';
const outsidePrism = (at: Temperature): CannotCorrect => ({
  because: `The sample was at ${at.typed}, outside 10–30 °C (50–86 °F), where the refractometer table was published. ${hot}.`,
  part: 'at',
  expected: `a sample at 10–30 °C (50–86 °F), where the refractometer table was published (${hot.charAt(0).toLowerCase()}${hot.slice(1)})`,
});
