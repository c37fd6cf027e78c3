import { createHash } from 'node:crypto';
import canonicalizeModule from 'canonicalize';

// The package is CommonJS with a default export, which TypeScript and Node see under different names.
const canonicalize = canonicalizeModule;

/**
 * Canonical JSON by RFC 8785. Undefined values are omitted; a number that JSON can't represent is a programming error.
 */
export function canonicalJson(value: unknown): string {
  const sorted = withSortedKeys(value, 0);
  const written = sorted === undefined ? undefined : JSON.stringify(sorted);
  // Half a pair of UTF-16, which JSON.stringify escapes and the package refuses.
  const text = written === undefined || written.includes('\\ud') ? canonicalize(value) : written;
  if (text === undefined) throw new Error('Only JSON values can be written to the record log');
  return text;
}

/**
 * A copy whose keys are in the order of RFC 8785; undefined for what this doesn't copy, which is left to the package.
 * JSON.stringify writes numbers and strings as the RFC prescribes (its sections 3.2.2.2 and 3.2.2.3). The package makes
 * a set of ancestors and an array of parts for every object, which took a quarter of an import's memory.
 */
function withSortedKeys(value: unknown, depth: number): unknown {
  if (typeof value === 'string' || typeof value === 'boolean' || value === null) return value;
  if (typeof value === 'number') return Number.isFinite(value) ? value : undefined;
  if (typeof value !== 'object' || depth > deepest || 'toJSON' in value) return undefined;
  if (Array.isArray(value)) {
    const items: unknown[] = [];
    for (const each of value as readonly unknown[]) {
      const item = each === undefined ? null : withSortedKeys(each, depth + 1);
      if (item === undefined) return undefined;
      items.push(item);
    }
    return items;
  }
  const sorted: Record<string, unknown> = {};
  for (const key of inOrder(Object.keys(value))) {
    const each = (value as Readonly<Record<string, unknown>>)[key];
    if (each === undefined) continue;
    const copy = isPlainKey.test(key) ? withSortedKeys(each, depth + 1) : undefined;
    if (copy === undefined) return undefined;
    sorted[key] = copy;
  }
  return sorted;
}

/** Past it the package looks for a circle. */
const deepest = 50;

/** An object keeps such keys in the order in which they are set: numbers come first, and `__proto__` sets no key. */
const isPlainKey = /^[A-Za-z][ -~]*$/;

/** Sorts by UTF-16 code units, as `sort` does; few keys one by one, for `sort` allocates three times their length. */
function inOrder(keys: string[]): string[] {
  if (keys.length > mostSortedHere) return keys.sort();
  for (let n = 1; n < keys.length; n++) {
    const key = keys[n] ?? '';
    let at = n;
    for (let before = keys[at - 1] ?? ''; at > 0 && before > key; before = keys[at - 1] ?? '') keys[at--] = before;
    keys[at] = key;
  }
  return keys;
}
const mostSortedHere = 50;

/** The SHA-256 of a text, in lower-case hex. */
export const hashOf = (text: string): string => createHash('sha256').update(text).digest('hex');
