import type { Entry, NumberedEntry } from '#libs/records/entry.js';
import { canonicalJson } from './canonical.js';

/** An entry as the log keeps it: there its type is called `deed`, and stored keys are never renamed. */
export type StoredEntry = Omit<Entry, 'entryType'> & { readonly deed: Entry['entryType'] };

/** An entry out of its stored JSON. */
export const parseEntry = (json: string): Entry => {
  const { deed: entryType, ...rest } = JSON.parse(json) as StoredEntry;
  return { ...rest, entryType };
};

/** An entry out of its row of the log, with its number. */
export const numberedEntry = ({ seq, json }: { readonly seq: number; readonly json: string }): NumberedEntry => {
  const { deed: entryType, ...rest } = JSON.parse(json) as StoredEntry;
  return { ...rest, entryType, seq };
};

/** The canonical JSON of an entry: what is hashed and kept. */
export const entryJson = ({ entryType: deed, ...rest }: Entry): string => canonicalJson({ ...rest, deed });
