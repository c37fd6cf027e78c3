import { findRecord, lotsOf } from '#libs/store/queries/lots.js';
import { checkedOf, suspectedBy } from '#libs/store/queries/instrument-readings.js';
import { passedCheck } from '#libs/syrup/instruments/instrument-checks.js';
import type { SuspectPeriod } from '#libs/syrup/instruments/suspect-period.js';
import { type Refusal, invalid, unknown } from '../record/problem.js';
import { lookUpLot } from '../record/references.js';
import { parseDay } from '../record/times.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Where a recall starts: lots by code, an instrument that failed a check, or a day. */
export interface RecallFrom {
  readonly lots?: readonly string[] | undefined;
  /** Every lot with a reading by this instrument between its last good check and the failed one. */
  readonly thermometer?: string | undefined;
  /** The same from one check that an instrument failed, by the check's id. */
  readonly check?: string | undefined;
  /** Every boil begun and every pack packed on this day, `2026-03-19`. */
  readonly day?: string | undefined;
}

/** An instrument, the checks between which its readings are suspect, and the lots with such readings. */
export interface SuspectInstrument {
  readonly instrument: string;
  readonly period: SuspectPeriod;
  readonly lots: readonly string[];
}

/** The lots a recall starts from, sorted by code; the lots downstream follow from them. */
export async function suspectLots(reader: SugarhouseReader, from: RecallFrom): Promise<string[] | Refusal> {
  const codes = new Set<string>();
  for (const typed of from.lots ?? []) {
    const lot = await lookUpLot(reader, typed);
    if (!lot) return unknown('lot', typed);
    codes.add(lot.code);
  }
  if (from.thermometer || from.check) {
    const found = await suspectInstrument(reader, from);
    if ('problem' in found) return found;
    if (found.lots.length === 0) return unknown('lot read with instrument', found.instrument);
    for (const lot of found.lots) codes.add(lot);
  }
  if (from.day) {
    const day = parseDay(from.day);
    if (day.mismatch) return invalid('day', day.mismatch.expected, day.mismatch.got);
    const ofDay = [...(await lotsOf(reader, 'boil')), ...(await lotsOf(reader, 'pack'))].filter((lot) =>
      lot.at.startsWith(day.value),
    );
    if (ofDay.length === 0) return unknown('boil or pack of', day.value);
    for (const lot of ofDay) codes.add(lot.code);
  }
  if (codes.size === 0) return invalid('lot', 'a lot code, an instrument or a first day', 'nothing');
  return [...codes].sort();
}

/** What a faulty instrument has read: packs and boils, in the jar, in the kettle, at the draw-off, of the density. */
export async function suspectInstrument(
  reader: SugarhouseReader,
  { thermometer, check }: Pick<RecallFrom, 'thermometer' | 'check'>,
): Promise<SuspectInstrument | Refusal> {
  const failed = check ? await findRecord(reader, 'check', check) : undefined;
  if (check && !failed) return unknown('check of an instrument', check);
  if (failed && passedCheck(checkedOf(failed.id, failed.body)) === true)
    return invalid('check', 'a check that the instrument failed', `${failed.id}, which it passed`);
  const instrument = failed?.body.instrument ?? thermometer ?? '';
  return { instrument, ...(await suspectedBy(reader, instrument, failed?.id)) };
}
