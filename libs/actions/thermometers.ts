import { recordsOf } from '#libs/records/lots.js';
import type { Sql } from '#libs/records/sql.js';
import type { ThermometerCorrections } from '#libs/syrup/judge-fill.js';
import type { Temperature } from '#libs/syrup/quantities.js';

/** What a check of a thermometer holds: where it should have stood, and where it stood. */
export interface CheckBody {
  readonly at: string;
  readonly instrument: string;
  readonly should?: Temperature | undefined;
  readonly reads?: Temperature | undefined;
  readonly by: string;
}

/** Within 2 °F of where it should stand (practice of several extension services' record forms). */
const toleranceCelsius = (2 * 5) / 9;

/** The season's thermometer checks: whether there were any, and how far each is out by its last one. */
export async function thermometersOf(
  sql: Sql,
  sugarhouse: string,
  year: number,
): Promise<{ checked: boolean; corrections: ThermometerCorrections }> {
  const checks = (await recordsOf<CheckBody>(sql, sugarhouse, 'check', year)).map((each) => each.body);
  const corrections = new Map<string, { offsetC: number; out: boolean }>();
  for (const check of checks) {
    if (!check.should || !check.reads) continue;
    const offsetC = check.should.celsius - check.reads.celsius;
    corrections.set(check.instrument, { offsetC, out: Math.abs(offsetC) > toleranceCelsius + 1e-9 });
  }
  return { checked: corrections.size > 0, corrections };
}
