import type { CheckBody } from '#libs/records/bodies.js';
import { recordsOf } from '#libs/records/lots.js';
import type { Sql } from '#libs/records/sql.js';
import type { ThermometerCorrections } from '#libs/syrup/judge-fill.js';
import { allowedErrorCelsius } from '#libs/syrup/thermometer-check.js';

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
    corrections.set(check.instrument, { offsetC, out: Math.abs(offsetC) > allowedErrorCelsius + 1e-9 });
  }
  return { checked: corrections.size > 0, corrections };
}
