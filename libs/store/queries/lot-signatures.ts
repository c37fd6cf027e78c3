import { type Signatures, signaturesIn } from '#libs/records/signatures.js';
import { historyOf } from '../log/log.js';
import { recordsAbout } from './lots.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** Reads a lot's history and verifications and derives its signatures. */
export async function signaturesOf(reader: SugarhouseReader, lot: string): Promise<Signatures> {
  const entries = await historyOf(reader, lot);
  const verified = await recordsAbout(reader, lot, 'verification');
  return signaturesIn(
    entries,
    lot,
    verified.map((each) => each.body),
  );
}
