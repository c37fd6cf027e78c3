import { createHash } from 'node:crypto';
import canonicalizeModule from 'canonicalize';

// The package is CommonJS with a default export, which TypeScript and Node see under different names.
const canonicalize = canonicalizeModule;

/**
 * Canonical JSON by RFC 8785. Undefined values are omitted; a number that JSON can't represent is a programming error.
 */
export function canonicalJson(value: unknown): string {
  const text = canonicalize(value);
  if (text === undefined) throw new Error('Only JSON values can be written to the record log');
  return text;
}

/** The SHA-256 of a text, in lower-case hex. */
export const hashOf = (text: string): string => createHash('sha256').update(text).digest('hex');
