import pg from 'pg';

/** The same driver with nothing of ours: a pool as large as a reader's, plain rows out. */
export interface BarePostgres {
  /** The four look-ups of a jar's public page. */
  scan(code: string): Promise<void>;
  /** What a trace up from a jar needs, in as few statements as we know; makes nothing of the rows. */
  trace(code: string): Promise<void>;
  close(): Promise<void>;
}

export function barePostgres(url: string): BarePostgres {
  const pool = new pg.Pool({ connectionString: url, max: 12 });
  const ask = async <T>(text: string, ...values: unknown[]): Promise<T[]> =>
    (await pool.query(text, values)).rows as T[];
  const jar = (code: string) => ask<{ pack: string }>('SELECT * FROM jar WHERE code = $1', code);
  const lot = (code: string) => ask("SELECT * FROM lot WHERE sugarhouse = 'home' AND code = $1", code);
  const kept = (kind: string, id: string) =>
    ask("SELECT * FROM record WHERE sugarhouse = 'home' AND kind = $1 AND id = $2", kind, id);
  return {
    scan: async (code) => {
      const pack = (await jar(code))[0]?.pack ?? '';
      await lot(pack);
      await kept('pack', pack);
      await kept('house', 'house');
    },
    trace: async (code) => {
      const pack = (await jar(code))[0]?.pack ?? '';
      await lot(pack);
      await ask(above, pack);
      for (const statement of ofPack) await ask(statement, pack);
    },
    close: () => pool.end(),
  };
}

const above = `WITH RECURSIVE above(code) AS (SELECT $1::text COLLATE "C" UNION SELECT flow.from_lot FROM above JOIN flow
  ON flow.sugarhouse = 'home' AND flow.into_lot = above.code)
  SELECT lot.* FROM above JOIN lot ON lot.sugarhouse = 'home' AND lot.code = above.code`;
const ofPack: readonly string[] = [
  "SELECT * FROM movement WHERE sugarhouse = 'home' AND lot = $1 ORDER BY sent_utc, id",
  `SELECT movement_jar.* FROM movement JOIN movement_jar ON movement_jar.sugarhouse = movement.sugarhouse
    AND movement_jar.movement = movement.id WHERE movement.sugarhouse = 'home' AND movement.lot = $1`,
  "SELECT * FROM shelf WHERE sugarhouse = 'home' AND lot = $1 ORDER BY counted_utc",
  "SELECT * FROM flow WHERE sugarhouse = 'home' AND from_lot = $1",
];
