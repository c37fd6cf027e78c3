import type { PackBody } from '#libs/records/bodies.js';
import { lotsOf, recordsOf } from '#libs/records/lots.js';
import type { Sql } from '#libs/records/sql.js';
import { type Refusal, invalid, unknown } from './problem.js';
import { lookUpLot } from './references.js';
import { parseDay } from './times.js';

/** What a recall may begin from: lots by code, an instrument found wrong, or a day. */
export interface RecallFrom {
  readonly lots?: readonly string[] | undefined;
  /** Every pack with a fill reading taken with this thermometer. */
  readonly thermometer?: string | undefined;
  /** Every boil begun and every pack packed on this day, `2026-03-19`. */
  readonly day?: string | undefined;
}

/** The lots a recall begins from, by code in order; what their syrup went into follows from them. */
export async function lotsInDoubt(sql: Sql, sugarhouse: string, from: RecallFrom): Promise<string[] | Refusal> {
  const codes = new Set<string>();
  for (const typed of from.lots ?? []) {
    const lot = await lookUpLot(sql, sugarhouse, typed);
    if (!lot) return unknown('lot', typed);
    codes.add(lot.code);
  }
  if (from.thermometer) {
    const read = (await recordsOf<PackBody>(sql, sugarhouse, 'pack')).filter(({ body }) =>
      body.fillTemps.some((fill) => fill.thermometer?.toUpperCase() === from.thermometer?.toUpperCase()),
    );
    if (read.length === 0) return unknown('pack read with thermometer', from.thermometer);
    for (const { id } of read) codes.add(id);
  }
  if (from.day) {
    const day = parseDay(from.day);
    if (day.mismatch) return invalid('day', day.mismatch.expected, day.mismatch.got);
    const ofDay = [...(await lotsOf(sql, sugarhouse, 'boil')), ...(await lotsOf(sql, sugarhouse, 'pack'))].filter(
      (lot) => lot.at.startsWith(day.value),
    );
    if (ofDay.length === 0) return unknown('boil or pack of', day.value);
    for (const lot of ofDay) codes.add(lot.code);
  }
  if (codes.size === 0) return invalid('lot', 'a lot code, a thermometer or a day to begin from', 'nothing');
  return [...codes].sort();
}
