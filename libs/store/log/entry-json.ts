import type { Entry, NumberedEntry } from '#libs/records/entry.js';
import { canonicalJson, hashOf } from './canonical.js';

/** The key of an entry's type in the stored JSON. Stored keys are hashed, so they are never renamed. */
const typeKey = 'deed';

/** An entry as it is stored. */
export type StoredEntry = Omit<Entry, 'entryType'> & { readonly [typeKey]: Entry['entryType'] };

/** Parses an entry from its stored JSON. */
export const parseEntry = (json: string): Entry => {
  const { [typeKey]: entryType, ...rest } = JSON.parse(json) as StoredEntry;
  return { ...rest, entryType };
};

/** Parses an entry, with its number, from its row of the log. */
export const numberedEntry = ({ seq, json }: { readonly seq: number; readonly json: string }): NumberedEntry => ({
  ...parseEntry(json),
  seq,
});

/** The canonical JSON of an entry: the text that is hashed and stored. */
export const entryJson = ({ entryType, ...rest }: Entry): string => canonicalJson({ ...rest, [typeKey]: entryType });

/**
 * Hash of a request to void something, add a photo or change a lot's status, by which a repeated request is recognized:
 * SHA-256 in lower-case hex. The log holds hashes made with the stored key of the type, so it is used here too.
 */
export const requestHashOf = (entryType: Entry['entryType'], request: object): string =>
  hashOf(canonicalJson({ ...request, [typeKey]: entryType }));
