import { type StoredRecord, type RecordColumns, recordFrom } from './lots.js';
import { rowsByKey } from '../connection/rows-by-key.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** Boils between two instants with a defoamer, by their record or their log, oldest first. */
export async function boilsWithDefoamer(
  { sql, sugarhouse }: SugarhouseReader,
  fromUtc: string,
  beforeUtc: string,
): Promise<StoredRecord<'boil'>[]> {
  const rows = await sql.rows<RecordColumns>`SELECT * FROM record
    WHERE sugarhouse = ${sugarhouse} AND kind = 'boil' AND at_utc >= ${fromUtc} AND at_utc < ${beforeUtc}
      AND ((body NOT LIKE '%"defoamer":""%' AND body NOT LIKE '%"defoamer":"none"%')
        OR EXISTS (SELECT 1 FROM record logged WHERE logged.sugarhouse = record.sugarhouse AND logged.lot = record.id
          AND logged.kind = 'line' AND logged.body LIKE '%"what":"defoamer"%'))
    ORDER BY at_utc, id`;
  return rows.map((row) => recordFrom<'boil'>(row));
}

/** The log lines of the boils between two instants, oldest first. */
export async function linesOfBoils(
  { sql, sugarhouse }: SugarhouseReader,
  fromUtc: string,
  beforeUtc: string,
): Promise<StoredRecord<'line'>[]> {
  const rows = await sql.rows<RecordColumns>`SELECT * FROM record
    WHERE sugarhouse = ${sugarhouse} AND kind = 'line' AND lot IN (SELECT id FROM record
      WHERE sugarhouse = ${sugarhouse} AND kind = 'boil' AND at_utc >= ${fromUtc} AND at_utc < ${beforeUtc})
    ORDER BY at_utc, id`;
  return rows.map((row) => recordFrom<'line'>(row));
}

/** Corrective actions with an answer about the allergens of a defoamer, oldest first. */
export async function actionsNamingAllergens({ sql, sugarhouse }: SugarhouseReader): Promise<StoredRecord<'action'>[]> {
  const rows = await sql.rows<RecordColumns>`SELECT * FROM record
    WHERE sugarhouse = ${sugarhouse} AND kind = 'action' AND body LIKE '%"defoamerAllergens":"_%' ORDER BY at_utc, id`;
  return rows.map((row) => recordFrom<'action'>(row)).filter(({ body }) => body.defoamerAllergens !== '');
}

/** The last answer, before an instant, for a defoamer of this name; the name in lower case. */
export async function lastDefoamerAnswered(
  { sql, sugarhouse }: SugarhouseReader,
  name: string,
  beforeUtc: string,
): Promise<{ readonly id: string; readonly answer: string } | undefined> {
  // A write knows most of these boils by their ids already, each parsed once.
  const rows = sql.keyed
    ? await rowsInOrder(
        { sql, sugarhouse },
        await sql.rows<{ id: string }>`SELECT id FROM record
          WHERE sugarhouse = ${sugarhouse} AND kind = 'boil' AND at_utc < ${beforeUtc}
            AND body NOT LIKE '%"defoamerAllergens":""%' AND body NOT LIKE '%"defoamer":""%'
          ORDER BY at_utc DESC, id DESC LIMIT 60`,
      )
    : await sql.rows<RecordColumns>`SELECT * FROM record
        WHERE sugarhouse = ${sugarhouse} AND kind = 'boil' AND at_utc < ${beforeUtc}
          AND body NOT LIKE '%"defoamerAllergens":""%' AND body NOT LIKE '%"defoamer":""%'
        ORDER BY at_utc DESC, id DESC LIMIT 60`;
  const found = rows
    .map((row) => recordFrom<'boil'>(row))
    .find(({ body }) => body.defoamer.trim().toLowerCase() === name && body.defoamerAllergens.trim() !== '');
  return found && { id: found.id, answer: found.body.defoamerAllergens };
}

async function rowsInOrder(
  { sql, sugarhouse }: SugarhouseReader,
  found: readonly { readonly id: string }[],
): Promise<RecordColumns[]> {
  const ids = found.map(({ id }) => id);
  const rows = await rowsByKey<RecordColumns>(sql, { table: 'record', sugarhouse, kind: 'boil' }, ids);
  const byId = new Map(rows.map((row) => [row.id, row]));
  return ids.flatMap((id) => byId.get(id) ?? []);
}
