import { countRecords, findByOwnId, findLot, findRecord, type StoredRecord } from '#libs/store/queries/lots.js';
import { voidedBy } from '#libs/store/queries/voided.js';
import type { Kind } from './kind.js';
import type { Refusal } from './problem.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Finds the existing record by the lot code or id in the request, or by the id that a correction refers to. */
export async function findExistingRecord(
  reader: SugarhouseReader,
  kind: Kind,
  input: Readonly<Record<string, unknown>>,
  options: { readonly of?: string | undefined },
): Promise<StoredRecord | undefined> {
  if (options.of !== undefined) return findRecord(reader, kind.kind, options.of);
  for (const field of kind.idFields) {
    const name = typeof input[field] === 'string' ? input[field].trim() : '';
    if (name === '') continue;
    const found =
      (await findRecord(reader, kind.kind, field === 'lot' ? name.toUpperCase() : name)) ??
      (field === 'id' && kind.idFields.includes('lot') ? await findByOwnId(reader, kind.kind, name) : undefined);
    if (found) return found;
  }
  return undefined;
}

/** Lot codes are unique across kinds: a gathering can't have the code of a boil, nor a receipt that of a gathering. */
export async function refuseTakenId(reader: SugarhouseReader, kind: Kind, id: string): Promise<Refusal | undefined> {
  const voided = await voidedBy(reader, kind.kind, id);
  if (voided !== undefined)
    return {
      problem: {
        kind: 'invalid',
        faults: [
          { field: kind.idFields[0] ?? 'id', expected: 'an id of its own', got: `${id}, which entry ${voided} voided` },
        ],
      },
    };
  if (!['gathering', 'receipt', 'boil', 'pack'].includes(kind.kind)) return undefined;
  const lot = await findLot(reader, id);
  if (!lot) return undefined;
  return {
    problem: {
      kind: 'invalid',
      faults: [
        {
          field: kind.idFields[0] ?? 'id',
          expected: `an id that no other lot has`,
          got: `${id}, which is a ${lot.kind}`,
        },
      ],
    },
  };
}

/** Letters for kinds whose first letter is taken: a draw-off is D, so a dispatch (sent out) is S. */
const idPrefixes: Readonly<Record<string, string>> = {
  spent: 'U',
  dispatch: 'S',
  cleaning: 'CL',
  check: 'CH',
  complaint: 'CO',
  answer: 'AN',
  'lead-test': 'LT',
  'practice-recall': 'P',
  'recall-call': 'RC',
  season: 'Y',
  supply: 'SU',
};

/** A short id for what the maker didn't number: the kind's letter and a running number. */
export async function nextFreeId(reader: SugarhouseReader, kind: Kind): Promise<string> {
  for (let n = (await countRecords(reader, kind.kind)) + 1; ; n++) {
    const id = shortId(kind, n);
    if (await findRecord(reader, kind.kind, id)) continue;
    if ((await voidedBy(reader, kind.kind, id)) === undefined) return id;
  }
}

const shortId = (kind: Kind, n: number): string =>
  `${idPrefixes[kind.kind] ?? kind.noun.charAt(0).toUpperCase()}${String(n).padStart(4, '0')}`;

/** The first ids that `nextFreeId` will look up for so many new records. */
export async function nextIds(reader: SugarhouseReader, kind: Kind, records: number): Promise<string[]> {
  const existingCount = await countRecords(reader, kind.kind);
  return Array.from({ length: records }, (_, n) => shortId(kind, existingCount + n + 1));
}
