import type { HouseBody } from '#libs/records/kinds/house.js';
import { passedCheck, offsetCelsius, type ReferenceSource } from '#libs/syrup/instruments/instrument-checks.js';
import { formatOffset } from '#libs/syrup/rules/judge-reading.js';
import { invalid, type Refusal } from '../record/problem.js';
import type { Length, Pressure, Temperature } from '#libs/syrup/quantities/quantities.js';
import { formatTemperature } from '#libs/syrup/quantities/format-quantities.js';
import { standardKilopascals, waterBoilsCelsius } from '#libs/syrup/science/steam.js';

/** A check as typed: the reference value may be omitted in ice water and boiling water. */
export interface TypedCheck {
  readonly instrument: string;
  readonly how: string;
  readonly should?: Temperature | undefined;
  readonly reads?: Temperature | undefined;
  readonly pressure?: Pressure | undefined;
  readonly elevation?: Length | undefined;
  readonly fit?: 'yes' | 'no' | undefined;
}

/** The reference value, and where it came from. */
export interface ReferenceReading {
  readonly should?: Temperature | undefined;
  readonly shouldFrom?: ReferenceSource | undefined;
}

/**
 * The reference value: as typed, else 32 °F in ice; in boiling water the boiling point by the day's pressure, else by
 * elevation, the check's or else the sugarhouse's.
 */
export function referenceReading(check: TypedCheck, house: HouseBody | undefined): ReferenceReading {
  if (check.should) return { should: check.should, shouldFrom: 'typed' };
  const unit = check.reads?.unit ?? house?.temperatures ?? 'F';
  if (check.how === 'ice') return { should: temperatureOf(0, unit), shouldFrom: 'ice' };
  if (check.how !== 'boiling-water') return {};
  if (check.pressure)
    return { should: temperatureOf(waterBoilsCelsius(check.pressure.kilopascals), unit), shouldFrom: 'pressure' };
  const height = check.elevation ?? house?.elevation;
  if (!height) return {};
  const kilopascals = standardKilopascals(height.millimetres / 1000);
  return { should: temperatureOf(waterBoilsCelsius(kilopascals), unit), shouldFrom: 'elevation' };
}

/** How far from 32 °F a typed reference for ice water may be: rounding, not another temperature. */
const iceToleranceCelsius = 0.5;
/**
 * °C. Boiling water between the highest pressure at sea level and about 13,000 ft up; nobody boils sap outside of that.
 */
const boilingRangeCelsius = [86, 101.9] as const;

/**
 * °C by which weather moves the boiling point from that of the elevation: 1.2 inHg either way at 1.75 °F an inch, from
 * memory.
 */
const weatherRangeCelsius = 1.2;

/**
 * Refuses a reference that can't be right, for it would make a wrong thermometer pass: ice at 40 °F, boiling water at
 * 230 °F, 212 °F a thousand feet up, or a pressure reduced to sea level as forecasts give it.
 */
export function refuseImpossibleReference(check: TypedCheck, house: HouseBody | undefined): Refusal | undefined {
  const { how, should, pressure, elevation } = check;
  const [low, high] = boilingRangeCelsius;
  if (should && how === 'ice' && Math.abs(should.celsius) > iceToleranceCelsius)
    return invalid('should', '32 °F or 0 °C, the ice point (leave the box blank to use it)', should.typed);
  if (should && how === 'boiling-water' && (should.celsius < low || should.celsius > high))
    return invalid(
      'should',
      'where water boils today, like 210.4 F (leave it blank and enter the pressure)',
      should.typed,
    );
  const height = elevation ?? house?.elevation;
  if (how !== 'boiling-water' || !height || !(should ?? pressure)) return undefined;
  const usual = waterBoilsCelsius(standardKilopascals(height.millimetres / 1000));
  const reference = should?.celsius ?? waterBoilsCelsius(pressure?.kilopascals ?? 0);
  if (Math.abs(reference - usual) <= weatherRangeCelsius) return undefined;
  const unit = check.reads?.unit ?? should?.unit ?? house?.temperatures ?? 'F';
  const about = `about ${temperatureOf(usual, unit).typed} at ${height.typed}, a little more or less by the weather`;
  return should
    ? invalid('should', `the boiling point here: ${about} (leave the box blank to use it)`, should.typed)
    : invalid(
        'pressure',
        `the pressure of the station, not reduced to sea level: water boils at ${about} (leave it blank, and the elevation counts)`,
        pressure?.typed ?? '',
      );
}

/** Whether two checks have the same reference and conditions. */
export const hasSameReference = (a: TypedCheck, b: TypedCheck): boolean =>
  a.how === b.how && a.should?.celsius === b.should?.celsius && a.pressure?.kilopascals === b.pressure?.kilopascals;

/** The result of a check, as the page shows it after saving. */
export function checkVerdict(check: TypedCheck & ReferenceReading): string {
  const { instrument, should, reads, shouldFrom, how } = check;
  const right = passedCheck({ ...check, id: '', atMs: 0 });
  if (right === undefined) return `Saved, and no check yet: ${missingReadings(check)}. A check needs both.`;
  const offsetC = offsetCelsius({ ...check, id: '', atMs: 0 });
  if (!should || !reads || offsetC === undefined)
    return right
      ? `${instrument} reads right, in a word: without two temperatures it is no check of a thermometer.`
      : `${instrument} reads wrong by an unknown amount: don’t use it.`;
  const against = how === 'ice' ? 'in ice' : how === 'boiling-water' ? 'in boiling water' : 'against the reference';
  const found = Math.abs(offsetC) < 1e-9 ? 'reads right' : `reads ${formatOffset(offsetC, reads.unit)}`;
  const again =
    shouldFrom === 'elevation' ? ' Elevation alone ignores the weather: check again with today’s pressure.' : '';
  return `${instrument} ${found} ${against}, where ${formatTemperature(should)} is right: ${right ? 'within 2 °F' : 'don’t use it'}.${again}`;
}

function missingReadings({ should, how }: TypedCheck & ReferenceReading): string {
  if (should) return 'enter what it read';
  return how === 'boiling-water'
    ? 'enter the day’s pressure, the elevation or what it should read, and what it read'
    : 'enter what it should read and what it read';
}

function temperatureOf(celsius: number, unit: Temperature['unit']): Temperature {
  const degrees = Math.round((unit === 'F' ? celsius * 1.8 + 32 : celsius) * 10) / 10;
  return { typed: `${degrees} ${unit}`, unit, degrees, celsius: unit === 'F' ? (degrees - 32) / 1.8 : degrees };
}
