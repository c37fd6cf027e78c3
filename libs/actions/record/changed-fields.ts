import type { Fields } from './fields.js';
import type { StoredFields } from './stored-fields.js';
import { valueItems } from './value-text.js';

/** A field that a correction or addition changed; for a list only the items that differ. */
export interface ChangedField {
  readonly name: string;
  readonly was: readonly string[];
  readonly now: readonly string[];
}

/** The fields in which a record differs from its former version, in plain words, in the order of `names`. */
export function changedFields(
  fields: Fields,
  before: StoredFields,
  now: StoredFields,
  names: readonly string[] = [...new Set([...Object.keys(before.typed), ...Object.keys(now.typed)])],
): ChangedField[] {
  return names
    .filter((name) => (before.typed[name] ?? '') !== (now.typed[name] ?? ''))
    .map((name) => {
      const field = fields[name];
      const [old, fresh] = [valueItems(field, before, name), valueItems(field, now, name)];
      return {
        name,
        was: field?.list ? itemsMissingFrom(old, fresh) : old,
        now: field?.list ? itemsMissingFrom(fresh, old) : fresh,
      };
    });
}

/** Items of one list that the other lacks, counting duplicates. */
function itemsMissingFrom(list: readonly string[], other: readonly string[]): string[] {
  const left = [...other];
  return list.filter((item) => {
    const at = left.indexOf(item);
    if (at >= 0) left.splice(at, 1);
    return at < 0;
  });
}
