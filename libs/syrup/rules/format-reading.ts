import { formatRounded, formatTemperature } from '../quantities/format-quantities.js';
import type { JudgedReading } from './judge-reading.js';

/** `186 °F (185.5 °F corrected) at 10:05, jar 24` */
export function formatReading({ fill, degrees, unit, by }: JudgedReading): string {
  const isCorrected = (by?.offsetC ?? 0) !== 0 && degrees !== fill.temperature.degrees;
  const corrected = isCorrected ? ` (${formatRounded(degrees, 2)} °${unit} corrected)` : '';
  return `${formatTemperature(fill.temperature)}${corrected}${fill.clock ? ` at ${fill.clock}` : ''}${fill.jars ? `, ${fill.jars}` : ''}`;
}
