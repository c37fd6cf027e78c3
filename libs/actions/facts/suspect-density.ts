import type { CheckBody } from '#libs/records/kinds/instrument-check.js';
import { recordsOf } from '#libs/store/queries/lots.js';
import { checkedOf } from '#libs/store/queries/instrument-readings.js';
import { passedCheck, type InstrumentChecked } from '#libs/syrup/instruments/instrument-checks.js';
import { formatCheckName, suspectWindow } from '#libs/syrup/instruments/suspect-reading.js';
import { allowedErrorCelsius } from '#libs/syrup/instruments/thermometer-check.js';
import {
  findMatchingId,
  resolveThermometer,
  sameId,
  type Thermometer,
  thermometersInUse,
} from '#libs/syrup/instruments/thermometers.js';
import type { Temperature } from '#libs/syrup/quantities/quantities.js';
import type { DensityFacts } from '#libs/syrup/rules/density-limits.js';
import { correctedDegrees, formatOffset } from '#libs/syrup/rules/judge-reading.js';
import { isThermometerCheck } from './thermometers.js';
import type { ReadWith } from '#libs/syrup/rules/judge-parts.js';
import type { DensityInstrument } from '#libs/syrup/science/density.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * Why a density is suspect, by the checks of its instrument and of the thermometer for its sample; empty where it
 * isn't.
 */
export type WhyDensitySuspect = (
  facts: Pick<DensityFacts, 'by' | 'sampleAt'>,
  read: ReadWith,
) => Pick<DensityFacts, 'whySuspect' | 'correctedSample'>;

/**
 * A hydrometer or refractometer that failed a check, for any reading between its last good check and the next; also a
 * named instrument that nobody recorded, unless its checks show that it is a thermometer. Where the reading names
 * several, one found wrong is enough. Where it names none, each of its kind counts that no check
 * before then took out of use: an assumption may hold a lot, never open one, so recording a second hydrometer does not
 * clear what the first is taken to have read.
 */
export async function loadSuspectDensities(
  reader: SugarhouseReader,
  thermometers: readonly Thermometer[],
): Promise<WhyDensitySuspect> {
  const recorded = await recordsOf(reader, 'instrument');
  const instruments = recorded.filter(({ body }) => ['hydrometer', 'refractometer'].includes(String(body['what'])));
  const all = await recordsOf(reader, 'check');
  const unrecorded = unrecordedIds(
    all.map(({ body }) => body),
    recorded.map(({ id }) => id),
  );
  const ids = instruments.map(({ id }) => id);
  const checksOf = (id: string): InstrumentChecked[] =>
    all.flatMap((each) =>
      sameId(findMatchingId(each.body.instrument, [...ids, ...unrecorded]), id) ? [checkedOf(each.id, each.body)] : [],
    );
  const withChecks = (some: readonly { readonly id: string }[]): Thermometer[] =>
    some.map(({ id }) => ({ id, checks: checksOf(id), checkedThisSeason: false }));
  const whySuspect = (
    by: DensityInstrument | undefined,
    { instruments: written, atMs }: ReadWith,
  ): string | undefined => {
    const kind = by === 'hydrometer' ? 'hydrometer' : 'refractometer';
    // Where the kind is not recorded either, it may be any.
    const ofKind = instruments.filter(({ body }) => by === undefined || body['what'] === kind);
    const isWritten = ({ id }: { readonly id: string }): boolean =>
      written.some((each) => sameId(findMatchingId(each, [...ids, ...unrecorded]), id));
    const byId = ofKind.filter(isWritten);
    const asTaken = by === undefined ? 'an instrument' : `a ${kind}`;
    const read = [
      ...withChecks(byId),
      // Whether it read the density isn't known, so it clears none of those that the density is taken to be read with.
      ...withChecks(unrecorded.map((id) => ({ id })).filter(isWritten)),
      ...(byId.length > 0 ? [] : inUse(withChecks(ofKind), atMs).map((each) => ({ ...each, isAssumed: true }))),
    ];
    for (const { id, checks, ...each } of read) {
      const wrong = checks.find((one) => passedCheck(one) === false && isWithin(suspectWindow(one, checks), atMs));
      if (wrong)
        return `${'isAssumed' in each ? `${asTaken} taken to be ${id}` : id}, found wrong (${formatCheckName(wrong)})`;
    }
    return undefined;
  };
  return ({ by, sampleAt }, read) => ({
    whySuspect: whySuspect(by, read),
    correctedSample: sampleAt && correctedSample(sampleAt, read, thermometers),
  });
}

/** Checked instruments that nobody recorded, and that no check shows to be a thermometer: what they are isn't known. */
const unrecordedIds = (checks: readonly CheckBody[], recorded: readonly string[]): string[] =>
  [...new Set(checks.map(({ instrument }) => instrument))].filter(
    (id) =>
      !recorded.some((each) => sameId(findMatchingId(id, [each]), each)) &&
      !checks.some((check) => sameId(check.instrument, id) && isThermometerCheck(check)),
  );

/**
 * A sample's temperature by a thermometer that the pack names and whose checks show it reads high; of several, the one
 * that lowers it most. Within the permitted error it stays as read: the method allows for that.
 */
function correctedSample(
  sampleAt: Temperature,
  { instruments, atMs }: ReadWith,
  thermometers: readonly Thermometer[],
): DensityFacts['correctedSample'] {
  const ids = thermometers.map(({ id }) => id);
  const byId = thermometers.filter(({ id }) => instruments.some((each) => sameId(findMatchingId(each, ids), id)));
  const by = resolveThermometer({ typed: sampleAt.typed, temperature: sampleAt, atMs }, byId);
  if (!by || by.offsetC >= -allowedErrorCelsius - 1e-9) return undefined;
  const { unit } = sampleAt;
  const degrees = correctedDegrees(sampleAt.degrees, unit, by.offsetC);
  const at: Temperature = { typed: `${degrees} ${unit}`, unit, degrees, celsius: sampleAt.celsius + by.offsetC };
  return {
    at,
    text: `the sample’s temperature by ${by.thermometer.id}, which reads ${formatOffset(by.offsetC, unit)} there`,
  };
}

/** Those in use at the time; where every one was out of use by then, all. */
function inUse(instruments: readonly Thermometer[], atMs: number): readonly Thermometer[] {
  const some = thermometersInUse(instruments, atMs);
  return some.length > 0 ? some : instruments;
}

const isWithin = (
  { afterMs, untilMs }: { readonly afterMs: number; readonly untilMs: number },
  atMs: number,
): boolean => atMs > afterMs && atMs < untilMs;
