import { formatTemperature, formatDensity } from '#libs/syrup/quantities/format-quantities.js';
import { inOtherUnit } from '#libs/syrup/quantities/other-unit.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { Portion } from '#libs/records/portion.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findFirstBoil, packTimeFaults, recordTimeFaults } from '../judging/lot-time-order.js';
import { readingTimeFaults } from '../facts/reading-times.js';
import type { Temperature } from '#libs/syrup/quantities/quantities.js';
import type { ParseOptions } from '../record/parse-options.js';
import type { Fault } from '../record/problem.js';

/** A pack as it was before a correction. */
export interface PreviousPack {
  readonly code: string;
  readonly ownId: string | undefined;
  readonly body: PackBody;
}

/** Whether syrup to fill from may have this temperature: 140 °F, or 60 °C, to boiling. Common practice, no source. */
const isKettle = ({ celsius }: Temperature): boolean => celsius >= 60 && celsius <= 107.2;

/**
 * Notes on saving readings whose unit is probably mistyped; the verdict judges them as recorded. A jar's reading that
 * was saved before, in `previous`, is not asked about again.
 */
export function unitNotes(
  { hotPackTemp, densityReading, fillTemps }: Pick<PackBody, 'hotPackTemp' | 'densityReading' | 'fillTemps'>,
  previous?: PreviousPack,
): string[] {
  const kettle = hotPackTemp && inOtherUnit(hotPackTemp);
  const saved = new Set(previous?.body.fillTemps.map(({ typed }) => typed));
  const newJars = fillTemps.filter(({ typed }) => !saved.has(typed)).map(({ temperature }) => temperature);
  return [
    ...newJars
      .filter((jar) => !isKettle(jar) && isKettle(inOtherUnit(jar)))
      .map((jar) => `A jar at ${formatTemperature(jar)}: did you mean ${formatTemperature(inOtherUnit(jar))}?`),
    ...(hotPackTemp && kettle && !isKettle(hotPackTemp) && isKettle(kettle)
      ? [`The kettle at ${formatTemperature(hotPackTemp)}: did you mean ${formatTemperature(kettle)}?`]
      : []),
    // Finished syrup is 35 to 37 °Bé cold and about 30 °Bé hot, and no syrup has so few °Bx.
    ...(densityReading?.scale === 'Bx' && densityReading.reading >= 28 && densityReading.reading <= 40
      ? [`${formatDensity(densityReading)} is far thinner than syrup: did you mean °Bé?`]
      : []),
  ];
}

/** A new pack has at least one jar, and no pack has more failed seals than jars. */
export function jarCountFaults(
  { jars, sealsFailed }: Pick<PackBody, 'jars' | 'sealsFailed'>,
  previous: PreviousPack | undefined,
): Fault[] {
  const faults: Fault[] = [];
  if (jars === 0 && !previous) faults.push({ field: 'jars', expected: 'at least one jar', got: '"0"' });
  if (jars !== undefined && (sealsFailed ?? 0) > jars)
    faults.push({ field: 'sealsFailed', expected: `at most the ${jars} jars of the pack`, got: `"${sealsFailed}"` });
  return faults;
}

/**
 * Times in an order that can't be: packed before its syrup was made or after its jars left, or a jar read before it was
 * filled. `portions` are its syrup, allotted.
 */
export async function packOrderFaults(
  reader: SugarhouseReader,
  { packedAt, fillTemps }: Pick<PackBody, 'packedAt' | 'fillTemps'>,
  portions: readonly Portion[],
  { previous, parseOptions }: { readonly previous: PreviousPack | undefined; readonly parseOptions: ParseOptions },
): Promise<Fault[]> {
  const readAtTimes = fillTemps.some(({ clock }) => clock !== undefined);
  const boilBegan = readAtTimes ? await findFirstBoil(reader, portions) : undefined;
  return [
    // An old pack with impossible times can still be corrected in its other fields.
    ...(hasNewTimesOrLots(packedAt, portions, previous?.body)
      ? await packTimeFaults(reader, { packedAt, fromLots: portions })
      : []),
    ...(previous
      ? await recordTimeFaults(reader, { code: previous.code, before: previous.body.packedAt, packedAt })
      : []),
    ...readingTimeFaults(fillTemps, { at: packedAt, packedAt, boilBegan }, parseOptions, previous?.body.fillTemps),
  ];
}

const hasNewTimesOrLots = (packedAt: string, portions: readonly Portion[], previous: PackBody | undefined): boolean =>
  previous === undefined ||
  previous.packedAt !== packedAt ||
  portions.some(({ lot }) => previous.fromLots.every((earlier) => earlier.lot !== lot));
