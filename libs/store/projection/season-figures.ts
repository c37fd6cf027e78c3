import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

export interface SeasonFigures {
  readonly year: number;
  readonly boils: number;
  readonly syrupMillilitres: number;
  readonly packs: number;
  readonly jars: number;
}

/** The totals of seasons before a year, oldest first, from the index alone. */
export async function seasonsBefore({ sql, sugarhouse }: SugarhouseReader, year: number): Promise<SeasonFigures[]> {
  const rows = await sql.rows<{
    year: number;
    kind: string;
    n: number | string;
    ml: number | null;
    jars: number | string | null;
  }>`
    SELECT year, kind, COUNT(*) AS n, SUM(millilitres) AS ml, SUM(jars) AS jars FROM lot
    WHERE sugarhouse = ${sugarhouse} AND kind IN ('boil', 'pack') AND year < ${year} GROUP BY year, kind ORDER BY year`;
  return [...new Set(rows.map((row) => row.year))].map((each) => {
    const of = (kind: string) => rows.find((row) => row.year === each && row.kind === kind);
    return {
      year: each,
      boils: Number(of('boil')?.n ?? 0),
      syrupMillilitres: Number(of('boil')?.ml ?? 0),
      packs: Number(of('pack')?.n ?? 0),
      jars: Number(of('pack')?.jars ?? 0),
    };
  });
}
