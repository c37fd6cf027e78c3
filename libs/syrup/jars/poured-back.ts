import type { FillReading } from '../quantities/fill-readings.js';

/** A fill reading with its place in the record, and whether its jars were poured back. */
export interface ListedReading<F extends FillReading = FillReading> {
  readonly fill: F;
  /** Its index among the readings as recorded. */
  readonly index: number;
  /** The index of the entry that records that its jars were poured back and filled again. */
  readonly pouredBackAt?: number;
}

/**
 * Lists readings, with `pouredBackAt` set for those whose jars were poured back. An entry “poured back” cancels the equal
 * reading before it; without one (copied from paper) it is both the reading and its cancellation.
 */
export function listedReadings<F extends FillReading>(fills: readonly F[]): ListedReading<F>[] {
  const listed: ListedReading<F>[] = [];
  fills.forEach((fill, index) => {
    if (!fill.pouredBack) return void listed.push({ fill, index });
    const place = listed.findLastIndex((each) => each.pouredBackAt === undefined && isSame(each.fill, fill));
    const cancelled = listed[place];
    if (cancelled) listed[place] = { ...cancelled, pouredBackAt: index };
    else listed.push({ fill, index, pouredBackAt: index });
  });
  return listed;
}

const isSame = (a: FillReading, b: FillReading): boolean =>
  a.temperature.degrees === b.temperature.degrees &&
  a.temperature.unit === b.temperature.unit &&
  a.clock === b.clock &&
  (a.thermometer ?? '').toUpperCase() === (b.thermometer ?? '').toUpperCase() &&
  (a.jars ?? '').toLowerCase() === (b.jars ?? '').toLowerCase();
