import { invalid, type Refusal } from '#libs/actions/record/problem.js';

/**
 * What no database can store: text with a NUL (PostgreSQL takes none) or half of a surrogate pair (not valid in UTF-8), or an
 * infinite number (no JSON for it). Returns the name of the first field that holds one.
 */
export function refuseUnstorable(value: unknown, field = 'text', depth = 0): Refusal | undefined {
  if (typeof value === 'string')
    return value.includes('\u0000') || /\p{Cs}/u.test(value)
      ? invalid(field, 'text of whole characters, without NUL', 'a character that is none')
      : undefined;
  // JSON writes larger ones (1e400) than a computer keeps: they arrive as infinite.
  if (typeof value === 'number' && !Number.isFinite(value))
    return invalid(field, 'a number that a computer can keep', 'one that is too large');
  // A file is bytes, checked by the code that parses it.
  if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) return undefined;
  if (depth > 20) return invalid(field, 'at most twenty levels', 'more');
  for (const [name, nested] of Object.entries(value)) {
    const refusal =
      refuseUnstorable(name, 'a field’s name', depth + 1) ??
      refuseUnstorable(nested, Array.isArray(value) ? field : name, depth + 1);
    if (refusal) return refusal;
  }
  return undefined;
}
