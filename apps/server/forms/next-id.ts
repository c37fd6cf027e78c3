import type { RecordKind } from '#libs/records/record-types.js';
import { countRecords, findLot, findRecord } from '#libs/store/queries/lots.js';
import { voidedBy } from '#libs/store/queries/voided.js';
import type { Principal } from '../http/principal.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * The next free number of a kind, such as `G042`, for makers who don't number their records. The same form sent twice
 * gets the same number both times.
 */
export async function nextId(principal: Principal, kind: RecordKind, letter: string): Promise<string> {
  const token = principal.writeContext.key;
  const earlier = token === undefined ? undefined : idByToken.get(token);
  if (earlier) return earlier;
  const { sugarhouse } = principal.writeContext;
  for (let n = (await countRecords(sugarhouseReader(principal.book.read, sugarhouse), kind)) + 1; ; n++) {
    const id = `${letter}${String(n).padStart(3, '0')}`;
    if (await findRecord(sugarhouseReader(principal.book.read, sugarhouse), kind, id)) continue;
    if ((await voidedBy(sugarhouseReader(principal.book.read, sugarhouse), kind, id)) !== undefined) continue;
    if (await findLot(sugarhouseReader(principal.book.read, sugarhouse), id)) continue;
    if (token !== undefined) idByToken.set(token, id);
    if (idByToken.size > maxTokens) idByToken.delete(idByToken.keys().next().value ?? '');
    return id;
  }
}

const maxTokens = 1000;
const idByToken = new Map<string, string>();
