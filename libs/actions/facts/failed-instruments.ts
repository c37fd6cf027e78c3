import { checkedOf } from '#libs/store/queries/instrument-readings.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { recordsOf } from '#libs/store/queries/lots.js';
import { openFailureOf, type OpenFailure } from '#libs/syrup/instruments/failed-check.js';
import { findMatchingId, sameId } from '#libs/syrup/instruments/thermometers.js';

/** An instrument in use that a check found wrong, with that check. */
export interface FailedInstrument extends OpenFailure {
  readonly instrument: string;
}

/**
 * Instruments that failed a check and that no good check at the same point, or after an adjustment, put right since;
 * those recorded as out of use are left out. With a year, by the checks of that year.
 */
export async function findFailedInstruments(reader: SugarhouseReader, year?: number): Promise<FailedInstrument[]> {
  const ids = (await recordsOf(reader, 'instrument')).map(({ id }) => id);
  const checks = (await recordsOf(reader, 'check', year)).map(({ id, body }) => ({
    instrument: findMatchingId(body.instrument, ids),
    check: checkedOf(id, body),
  }));
  const names = new Map(checks.map(({ instrument }) => [instrument.toUpperCase(), instrument]));
  return [...names.values()].flatMap((instrument) => {
    const failure = openFailureOf(
      checks.filter((each) => sameId(each.instrument, instrument)).map(({ check }) => check),
    );
    return failure ? [{ instrument, ...failure }] : [];
  });
}
