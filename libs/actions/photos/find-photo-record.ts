import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { recordsByIdOf } from '#libs/store/queries/records-by-id.js';
import { invalid, type Refusal, unknown } from '../record/problem.js';
import { lookUpLot } from '../record/references.js';

/** The record that a person names by a lot code, an id, or `kind/id` where several kinds have the id. */
export async function findPhotoRecord(
  reader: SugarhouseReader,
  typed: string,
): Promise<{ readonly kind: string; readonly id: string } | Refusal> {
  const [, kind = '', id = ''] = /^([a-z-]+)\/(.+)$/.exec(typed.trim()) ?? [];
  if (kind !== '') return { kind, id };
  const lot = await lookUpLot(reader, typed);
  if (lot) return { kind: lot.kind, id: lot.code };
  const found = await recordsByIdOf(reader, typed.trim());
  const [first, second] = found;
  if (!first) return unknown('record', typed);
  if (second)
    return invalid('record', `one of ${found.map((each) => `${each.kind}/${each.id}`).join(', ')}`, `"${typed}"`);
  return first;
}
