import { invalid, type Refusal } from '#libs/actions/record/problem.js';

/**
 * Text that no book can keep: a NUL (PostgreSQL takes none) or half of a surrogate pair (no UTF-8 for it).
 * Answers the first field that holds one, by its name.
 */
export function illFormed(value: unknown, field = 'text', depth = 0): Refusal | undefined {
  if (typeof value === 'string')
    return value.includes('\u0000') || /\p{Cs}/u.test(value)
      ? invalid(field, 'text of whole characters, without NUL', 'a character that is none')
      : undefined;
  // A file is bytes, and read by whoever takes it.
  if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) return undefined;
  if (depth > 20) return invalid(field, 'at most twenty levels', 'more');
  for (const [name, inner] of Object.entries(value)) {
    const refusal =
      illFormed(name, 'a field’s name', depth + 1) ?? illFormed(inner, Array.isArray(value) ? field : name, depth + 1);
    if (refusal) return refusal;
  }
  return undefined;
}
