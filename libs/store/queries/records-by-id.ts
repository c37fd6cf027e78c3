import type { RecordKind } from '#libs/records/record-types.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** Records of any kind that have this id. */
export const recordsByIdOf = (
  { sql, sugarhouse }: SugarhouseReader,
  id: string,
): Promise<{ readonly kind: RecordKind; readonly id: string }[]> =>
  sql.rows<{ kind: RecordKind; id: string }>`SELECT kind, id FROM record
    WHERE sugarhouse = ${sugarhouse} AND id = ${id} ORDER BY kind`;
