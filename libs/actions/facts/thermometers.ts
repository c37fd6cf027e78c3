import type { CheckBody } from '#libs/records/kinds/instrument-check.js';
import { recordsOfEach } from '#libs/store/queries/lots.js';
import { checkedOf } from '#libs/store/queries/instrument-readings.js';
import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';
import { offsetCelsius } from '#libs/syrup/instruments/instrument-checks.js';
import { findMatchingId, sameId, type Thermometer } from '#libs/syrup/instruments/thermometers.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * The sugarhouse's thermometers: those recorded, and those checked unless they are recorded as another kind of
 * instrument. With their checks of every year; `checkedThisSeason` needs one of `year` with both temperatures.
 */
export const loadThermometers = async (reader: SugarhouseReader, year: number): Promise<Thermometer[]> =>
  (await loadInstruments(reader, year)).thermometers;

export interface Instruments {
  readonly thermometers: Thermometer[];
  /** The same readings; a hydrometer or other instrument that reads no temperature is removed from them. */
  readonly named: <Reading extends FillReading>(fills: readonly Reading[]) => Reading[];
}

/** The same, and instruments that readings name by mistake. */
export async function loadInstruments(reader: SugarhouseReader, year: number): Promise<Instruments> {
  const { instrument: instruments, check: allChecks } = await recordsOfEach(reader, ['instrument', 'check']);
  const isOther = (id: string): boolean =>
    instruments.some((each) => sameId(each.id, id) && each.body['what'] !== 'thermometer');
  const ids = instruments.filter(({ body }) => body['what'] === 'thermometer').map(({ id }) => id);
  const recorded = instruments.map(({ id }) => id);
  const checks = allChecks
    .map((each) => ({ ...each, instrument: findMatchingId(each.body.instrument, recorded) }))
    .filter(({ instrument }) => !isOther(instrument));
  for (const { body, instrument } of checks)
    if (!ids.some((id) => sameId(id, instrument)) && isThermometerCheck(body)) ids.push(instrument);
  const thermometers = ids.map((id) => {
    const own = checks.filter(({ instrument }) => sameId(instrument, id)).map((each) => checkedOf(each.id, each.body));
    return {
      id,
      checks: own,
      checkedThisSeason: own.some((each) => each.day?.startsWith(`${year}-`) && offsetCelsius(each) !== undefined),
    };
  });
  const others = recorded.filter(isOther);
  const namesOther = ({ thermometer }: FillReading): boolean =>
    thermometer !== undefined && others.some((id) => sameId(id, findMatchingId(thermometer, recorded)));
  return {
    thermometers,
    named: (fills) => fills.map((fill) => (namesOther(fill) ? { ...fill, thermometer: undefined } : fill)),
  };
}

/** An unrecorded instrument is a thermometer where its check gives a temperature, or was in ice or boiling water. */
export const isThermometerCheck = ({ how, should, reads }: CheckBody): boolean =>
  should !== undefined || reads !== undefined || how === 'ice' || how === 'boiling-water';
