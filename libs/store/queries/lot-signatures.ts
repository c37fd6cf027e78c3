import { type Signatures, signaturesIn } from '#libs/records/signatures.js';
import type { Sql } from '../connection/sql.js';
import { historyOf } from '../log/log.js';
import { recordsAbout } from './lots.js';

/** Reads a lot's history and verifications and works out who signed it. */
export async function signaturesOf(sql: Sql, sugarhouse: string, lot: string): Promise<Signatures> {
  const entries = await historyOf(sql, sugarhouse, lot);
  const verified = await recordsAbout(sql, sugarhouse, lot, 'verification');
  return signaturesIn(
    entries,
    lot,
    verified.map((each) => each.body),
  );
}
