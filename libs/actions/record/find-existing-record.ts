import { countRecords, findByOwnId, findLot, findRecord, type StoredRecord } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { voidedBy } from '#libs/store/queries/voided.js';
import type { Kind } from './kind.js';
import type { Refusal } from './problem.js';

/** Finds the existing record by the lot code or id that the request names, or by the id that a correction points at. */
export async function findExistingRecord(
  sql: Sql,
  sugarhouse: string,
  kind: Kind,
  sent: Readonly<Record<string, unknown>>,
  ways: { readonly of?: string | undefined },
): Promise<StoredRecord | undefined> {
  if (ways.of !== undefined) return findRecord(sql, sugarhouse, kind.kind, ways.of);
  for (const field of kind.named) {
    const name = typeof sent[field] === 'string' ? sent[field].trim() : '';
    if (name === '') continue;
    const found =
      (await findRecord(sql, sugarhouse, kind.kind, field === 'lot' ? name.toUpperCase() : name)) ??
      (field === 'id' && kind.named.includes('lot') ? await findByOwnId(sql, sugarhouse, kind.kind, name) : undefined);
    if (found) return found;
  }
  return undefined;
}

/** A lot's code is given once: a gathering may not take a boil's, nor a receipt a gathering's. */
export async function idTaken(sql: Sql, sugarhouse: string, kind: Kind, id: string): Promise<Refusal | undefined> {
  const voided = await voidedBy(sql, sugarhouse, kind.kind, id);
  if (voided !== undefined)
    return {
      problem: {
        kind: 'invalid',
        faults: [
          { field: kind.named[0] ?? 'id', expected: 'an id of its own', got: `${id}, which entry ${voided} voided` },
        ],
      },
    };
  if (!['gathering', 'receipt', 'boil', 'pack'].includes(kind.kind)) return undefined;
  const lot = await findLot(sql, sugarhouse, id);
  if (!lot) return undefined;
  return {
    problem: {
      kind: 'invalid',
      faults: [
        { field: kind.named[0] ?? 'id', expected: `an id no other lot has`, got: `${id}, which is a ${lot.kind}` },
      ],
    },
  };
}

/** Where two kinds begin alike: a draw-off is D, so what is sent out is S. */
const letters: Readonly<Record<string, string>> = {
  spent: 'U',
  dispatch: 'S',
  cleaning: 'CL',
  check: 'CH',
  complaint: 'CO',
  answer: 'AN',
  'lead-test': 'LT',
  'recall-call': 'RC',
  season: 'Y',
  supply: 'SU',
};

/** Short ids for what the maker didn't number: the kind's first letter and a running number. */
export async function freeId(sql: Sql, sugarhouse: string, kind: Kind): Promise<string> {
  for (let n = (await countRecords(sql, sugarhouse, kind.kind)) + 1; ; n++) {
    const id = `${letters[kind.kind] ?? kind.noun.charAt(0).toUpperCase()}${String(n).padStart(4, '0')}`;
    if (await findRecord(sql, sugarhouse, kind.kind, id)) continue;
    if ((await voidedBy(sql, sugarhouse, kind.kind, id)) === undefined) return id;
  }
}
