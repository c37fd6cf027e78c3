import pg from 'pg';

/** The same driver without our code: a pool as large as a reader's, plain rows returned. */
export interface BarePostgres {
  /** The four look-ups of a jar's public page, one statement each, as the driver sends them by itself. */
  readonly scan: (code: string) => Promise<void>;
  /** The rows that a trace up from a jar needs, one statement per table, without processing them. */
  readonly trace: (code: string) => Promise<void>;
  /** The same two with our own joined, named statements: the least work that we know of. */
  readonly leanScan: (code: string) => Promise<void>;
  readonly leanTrace: (code: string) => Promise<void>;
  close(): Promise<void>;
}

export function barePostgres(url: string): BarePostgres {
  const pool = new pg.Pool({ connectionString: url, max: 12 });
  const ask = async <T>(text: string, ...values: unknown[]): Promise<T[]> =>
    (await pool.query(text, values)).rows as T[];
  const named = async <T>(name: string, text: string, ...values: unknown[]): Promise<T[]> =>
    (await pool.query({ name, text, values })).rows as T[];
  const jar = (code: string) => ask<{ pack: string }>('SELECT * FROM jar WHERE code = $1', code);
  const lot = (code: string) => ask("SELECT * FROM lot WHERE sugarhouse = 'home' AND code = $1", code);
  const saved = "SELECT * FROM record WHERE sugarhouse = 'home' AND kind = $1 AND id = $2";
  return {
    scan: async (code) => {
      const pack = (await jar(code))[0]?.pack ?? '';
      await lot(pack);
      await ask(saved, 'pack', pack);
      await ask(saved, 'house', 'house');
    },
    trace: async (code) => {
      const pack = (await jar(code))[0]?.pack ?? '';
      await lot(pack);
      await ask(above, pack);
      for (const statement of ofPack) await ask(statement, pack);
    },
    leanScan: async (code) => {
      await named('jar and pack', jarAndPack, code);
      await named('kept', saved, 'house', 'house');
    },
    leanTrace: async (code) => {
      const [found] = await named<{ pack: string }>('jar', 'SELECT * FROM jar WHERE code = $1', code);
      await named('above', above, found?.pack);
      await named('account', account, found?.pack);
    },
    close: () => pool.end(),
  };
}

const jarAndPack = `WITH found AS MATERIALIZED (SELECT * FROM jar WHERE code = $1 LIMIT 1)
  SELECT lot.*, found.n, record.body FROM found
  JOIN lot ON lot.sugarhouse = found.sugarhouse AND lot.code = found.pack
  JOIN record ON record.sugarhouse = found.sugarhouse AND record.kind = 'pack' AND record.id = found.pack`;
const above = `WITH RECURSIVE above(code) AS (SELECT $1::text COLLATE "C" UNION SELECT flow.from_lot FROM above JOIN flow
  ON flow.sugarhouse = 'home' AND flow.into_lot = above.code)
  SELECT lot.* FROM above JOIN lot ON lot.sugarhouse = 'home' AND lot.code = above.code`;
const ofPack: readonly string[] = [
  "SELECT * FROM movement WHERE sugarhouse = 'home' AND lot = $1 ORDER BY sent_utc, id",
  `SELECT movement_jar.* FROM movement JOIN movement_jar ON movement_jar.sugarhouse = movement.sugarhouse
    AND movement_jar.movement = movement.id WHERE movement.sugarhouse = 'home' AND movement.lot = $1`,
  "SELECT * FROM shelf_count WHERE sugarhouse = 'home' AND lot = $1 ORDER BY counted_utc",
  "SELECT * FROM flow WHERE sugarhouse = 'home' AND from_lot = $1",
];
const account = `
  SELECT 'pack' AS part, code AS lot, '' AS id, jars, at_utc FROM lot WHERE sugarhouse = 'home' AND code = $1
  UNION ALL SELECT sent_to, lot, id, jars, sent_utc FROM movement WHERE sugarhouse = 'home' AND lot = $1
  UNION ALL SELECT '', lot, id, jars, counted_utc FROM shelf_count WHERE sugarhouse = 'home' AND lot = $1
  UNION ALL SELECT typed, into_lot, from_lot, NULL, at_utc FROM flow WHERE sugarhouse = 'home' AND into_lot = $1
  UNION ALL SELECT typed, into_lot, from_lot, NULL, at_utc FROM flow WHERE sugarhouse = 'home' AND from_lot = $1`;
