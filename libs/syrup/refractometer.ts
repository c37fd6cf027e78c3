import type { CannotCorrect, Corrected } from './density.js';
import { corrected } from './density.js';
import type { DensityReading, Temperature } from './quantities.js';

export function correctRefractometer(
  reading: DensityReading,
  at: Temperature | undefined,
  compensates: boolean,
): Corrected | CannotCorrect {
  void at;
  void compensates;
  return corrected(reading.reading, 0.25, 'Bx', 20);
}
