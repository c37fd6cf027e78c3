import type { RecordKind } from '#libs/records/record-types.js';
import type { StoredRecord } from '#libs/store/queries/lots.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { WriteContext, SugarhouseContext } from './write-context.js';
import type { BodyOf, Fields, Typed } from './fields.js';
import type { Refusal } from './problem.js';

/** What a kind's `prepare` receives: the book as read inside the write transaction. */
export interface PrepareContext {
  /** Reads within the transaction. */
  readonly reader: SugarhouseReader;
  readonly writeContext: WriteContext;
  readonly houseContext: SugarhouseContext;
  /** Author and time of the record's first entry, used where neither is typed: a correction changes neither. */
  readonly first: { readonly by: string; readonly at: string };
}

/** A record ready for the log: id or code assigned, references found, amounts allotted. */
export interface PreparedRecord {
  readonly id: string;
  readonly ownId?: string | undefined;
  readonly lot?: string | undefined;
  readonly body: unknown;
  readonly happenedAt: string;
  /** Lots in whose history it appears. */
  readonly about: readonly string[];
  /** Lots to judge again once it is in the index. */
  readonly judge: readonly string[];
  /** How many jars the pack has, where it is one. */
  readonly jars?: number | undefined;
  /** Notes for the writer about an accepted record. */
  readonly notes: readonly string[];
}

/** The lowest role that may write something. The stored role `packer` has a maker's rights. */
export type Writer = 'helper' | 'maker' | 'owner';

export interface Kind<F extends Fields = Fields> {
  readonly kind: RecordKind;
  /** Its name in files, addresses and commands: `gatherings`. */
  readonly plural: string;
  /** Its name in a sentence: `gathering`. */
  readonly noun: string;
  readonly fields: F;
  /** Who may write one, for a supporting record; other kinds are in the table of rights. */
  readonly writer?: Writer;
  /** The fields that identify the record: its lot code first, then the maker's own id. */
  readonly idFields: readonly string[];
  prepare(
    at: PrepareContext,
    read: { readonly typed: Typed; readonly body: BodyOf<F> },
    before: StoredRecord | undefined,
  ): Promise<Refusal | PreparedRecord>;
}

/** Erases the field types, so that one table can hold all kinds. */
export const kind = <F extends Fields>(definition: Kind<F>): Kind => definition;
