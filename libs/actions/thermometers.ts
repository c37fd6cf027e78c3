import type { CheckBody } from '#libs/records/bodies.js';
import { recordsOf } from '#libs/records/lots.js';
import { checkedOf } from '#libs/records/read-with.js';
import type { Sql } from '#libs/records/sql.js';
import { type InstrumentChecked, offsetAt } from '#libs/syrup/instrument-doubt.js';
import type { ThermometerCorrections } from '#libs/syrup/judge-fill.js';

/** The season's thermometer checks: whether there were any, and how far each was out when something was read. */
export async function thermometersOf(
  sql: Sql,
  sugarhouse: string,
  year: number,
  at?: string,
): Promise<{ checked: boolean; corrections: ThermometerCorrections }> {
  const byInstrument = new Map<string, InstrumentChecked[]>();
  for (const { id, body } of await recordsOf<CheckBody>(sql, sugarhouse, 'check', year)) {
    if (!body.should || !body.reads) continue;
    const same = [...byInstrument.keys()].find((each) => each.toUpperCase() === body.instrument.toUpperCase());
    const instrument = same ?? body.instrument;
    byInstrument.set(instrument, [...(byInstrument.get(instrument) ?? []), checkedOf(id, body)]);
  }
  const atMs = at === undefined ? Infinity : Date.parse(at);
  const corrections = new Map<string, { offsetC: number; out: boolean }>();
  for (const [instrument, checks] of byInstrument) {
    const offset = offsetAt(checks, atMs);
    if (offset) corrections.set(instrument, offset);
  }
  return { checked: corrections.size > 0, corrections };
}
