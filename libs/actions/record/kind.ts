import type { RecordKind } from '#libs/records/record-types.js';
import type { StoredRecord } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import type { WriteContext, SugarhouseContext } from './write-context.js';
import type { BodyOf, Fields, Typed } from './fields.js';
import type { Refusal } from './problem.js';

/** What a kind prepares its record with: the book as read inside the write transaction. */
export interface PrepareContext {
  readonly sql: Sql;
  readonly writeContext: WriteContext;
  readonly houseContext: SugarhouseContext;
  /** Author and time of the record's first entry, used where neither is typed: a correction changes neither. */
  readonly first: { readonly by: string; readonly at: string };
}

/** A record made ready for the log: its id or code given, its references found, its amounts allotted. */
export interface PreparedRecord {
  readonly id: string;
  readonly ownId?: string | undefined;
  readonly lot?: string | undefined;
  readonly body: unknown;
  readonly happenedAt: string;
  /** Lots whose history shows it. */
  readonly about: readonly string[];
  /** Lots to judge again, once it is in the index. */
  readonly judge: readonly string[];
  /** How many jars of this pack there are, where it is one. */
  readonly jars?: number | undefined;
  /** Notes for the writer, though nothing was refused. */
  readonly notes: readonly string[];
}

/** The lowest role that may write something. A packer may do what a maker may. */
export type Writer = 'helper' | 'maker' | 'owner';

export interface Kind<F extends Fields = Fields> {
  readonly kind: RecordKind;
  /** As files, addresses and the command line call it: `gatherings`. */
  readonly plural: string;
  /** As a sentence calls one: `gathering`. */
  readonly noun: string;
  readonly fields: F;
  /** Who may write one, of a supporting record; the other kinds stand in the table of rights. */
  readonly writer?: Writer;
  /** Which fields name the record: its lot code first, then the maker's own id. */
  readonly named: readonly string[];
  prepare(
    at: PrepareContext,
    read: { readonly typed: Typed; readonly body: BodyOf<F> },
    before: StoredRecord | undefined,
  ): Promise<Refusal | PreparedRecord>;
}

/** Erases the field types, so that one table can hold all kinds. */
export const kind = <F extends Fields>(definition: Kind<F>): Kind => definition;
