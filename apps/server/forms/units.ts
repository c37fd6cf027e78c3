import {
  anyTemperature,
  area,
  boilingWater,
  elevation,
  length,
  liquidTemperature,
  mass,
  pressure,
  positiveVolume,
  sugar,
  trueDensity,
} from '#libs/actions/calculators/calculator.js';
import { jarSizes } from '#libs/actions/calculators/amounts.js';
import { masses } from '#libs/actions/calculators/filling.js';
import { panReadings } from '#libs/actions/calculators/thickening.js';
import {
  density,
  type Fields,
  fillReadings,
  percent,
  portions,
  temperature,
  volume,
} from '#libs/actions/record/fields.js';
import type { HouseBody } from '#libs/records/kinds/house.js';

/** The units of this house: the one that is offered first beside an empty box. */
export type Measures = Pick<HouseBody, 'temperatures' | 'volumes'> & { readonly canada: boolean };

type Unit = readonly [value: string, words: string];

/** Units offered beside the box; the house's own first. A unit typed in the box itself takes precedence. */
export function unitsOf(field: Fields[string], measures: Measures): readonly Unit[] {
  const read: unknown = field.read;
  const isMetric = measures.canada || measures.volumes === 'L';
  if (temperatures.has(read)) return measures.temperatures === 'C' ? [celsius, fahrenheit] : [fahrenheit, celsius];
  if (read === density || read === trueDensity) return densities;
  if (read === percent) return [['%', '%']];
  if (read === sugar) return sameText('Bx', '%').map(([value]) => [value, value === 'Bx' ? '°Bx' : value]);
  if (read === mass || read === masses) return sameText('g', 'kg', 'oz', 'lb');
  if (read === pressure) return isMetric ? sameText('kPa', 'hPa', 'inHg') : sameText('inHg', 'kPa', 'hPa');
  if (read === elevation) return isMetric ? sameText('m', 'ft') : sameText('ft', 'm');
  if (read === length) return isMetric ? sameText('mm', 'cm', 'in') : sameText('in', 'mm', 'cm');
  if (read === area) return isMetric ? [squareCentimetres, squareInches] : [squareInches, squareCentimetres];
  if (!volumes.has(read)) return [];
  const units = measures.canada
    ? sameText('L', 'mL', 'imp gal', 'imp qt', 'US gal', 'US qt')
    : measures.volumes === 'L'
      ? sameText('L', 'mL', 'gal', 'qt', 'pt', 'fl oz')
      : sameText('gal', 'qt', 'pt', 'fl oz', 'L', 'mL');
  // The content of one jar is given in small units: a bare 8 doesn't mean 8 gallons.
  return field.example.includes('fl oz') ? [...units].sort((a, b) => smallness(b) - smallness(a)) : units;
}

const smallness = ([unit]: Unit): number => Number(unit === 'fl oz' || unit === 'mL');

const temperatures: ReadonlySet<unknown> = new Set([
  temperature,
  fillReadings,
  panReadings,
  liquidTemperature,
  anyTemperature,
  boilingWater,
]);
const volumes: ReadonlySet<unknown> = new Set([volume, positiveVolume, portions, jarSizes]);
const fahrenheit: Unit = ['F', '°F'];
const celsius: Unit = ['C', '°C'];
const densities: readonly Unit[] = [
  ['Bx', '°Bx'],
  ['Be', '°Bé'],
  ['SG', 'SG'],
];
const squareInches: Unit = ['in2', 'in²'];
const squareCentimetres: Unit = ['cm2', 'cm²'];
const sameText = (...units: readonly string[]): readonly Unit[] => units.map((unit): Unit => [unit, unit]);
