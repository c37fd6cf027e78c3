import type { RecordByKind, RecordKind } from './record-types.js';
import type { Verdict } from '#libs/syrup/rules/verdict.js';

export type LotState = 'open' | 'held' | 'released' | 'recalled';
export type EntryType = 'record' | 'add' | 'correct' | 'hold' | 'act' | 'release' | 'recall' | 'void' | 'photo';

/** A record after an entry. A union over the kinds: `kind` decides the type of `body`. */
export type RecordRow<K extends RecordKind = RecordKind> = {
  [P in K]: {
    readonly kind: P;
    /** The lot code of a boil or pack; else the record's own id. */
    readonly id: string;
    /** The maker's own id for a boil or a pack, where one was given. */
    readonly ownId?: string | undefined;
    /** The lot that it is about, where it is no lot itself. */
    readonly lot?: string | undefined;
    /** Each field as it was typed. */
    readonly typed: Readonly<Record<string, string>>;
    /** Parsed from `typed`. */
    readonly body: RecordByKind[P];
  };
}[K];

/** The verdict on a lot when the entry was written. Replay copies it and never recomputes it. */
export interface Judged {
  readonly lot: string;
  readonly state: LotState;
  /** Since when it has been held, or was held before its release. */
  readonly heldSince?: string | undefined;
  readonly verdict?: Verdict | undefined;
}

/** Jars whose codes this entry assigned: numbers `from` to `from + count - 1` of the pack. */
export interface AllocatedJars {
  readonly pack: string;
  readonly from: number;
  readonly count: number;
  /** 32 bytes in hex: the code of jar n is derived from HMAC(seed, n, try). */
  readonly seed: string;
  /** [n, tries skipped because another jar of the book had that code]. */
  readonly skips: readonly (readonly [number, number])[];
}

/** A record that an entry voids: it did not happen. */
export interface VoidedRecord {
  readonly kind: RecordKind;
  readonly id: string;
}

/** A photo added to a record: the image is stored beside the log, its hash in it. */
export interface PhotoTaken {
  readonly kind: RecordKind;
  readonly id: string;
  /** SHA-256 of the stored JPEG, in lower-case hex. */
  readonly sha256: string;
  readonly bytes: number;
  readonly width: number;
  readonly height: number;
  readonly caption: string;
}

/** One entry of the record log. */
export interface Entry {
  readonly format: 1;
  readonly sugarhouse: string;
  /** What kind of entry it is. Stored under another key: libs/store/log/entry-json.ts. */
  readonly entryType: EntryType;
  /** Initials of who did it. */
  readonly by: string;
  readonly happenedAt: string;
  readonly typedAt: string;
  /** The owner of the idempotency key: initials, a key's name, or `import`. */
  readonly author: string;
  readonly key: string;
  /** Hash of the request: the same key with another request is refused. */
  readonly sent: string;
  /** The lots whose history shows this entry. */
  readonly about: readonly string[];
  readonly record?: RecordRow | undefined;
  readonly judged?: readonly Judged[] | undefined;
  readonly jars?: AllocatedJars | undefined;
  /** For a void: the record that did not happen; `corrects` is its last entry. */
  readonly voids?: VoidedRecord | undefined;
  readonly photo?: PhotoTaken | undefined;
  /** For a correction: the entry it corrects. */
  readonly corrects?: number | undefined;
  readonly why?: string | undefined;
  /** Content of a hold, an action or a recall: found, done, readings. */
  readonly said?: Readonly<Record<string, unknown>> | undefined;
  /** The source of the entry when it was not typed here: copied from paper, imported from a file. */
  readonly from?: string | undefined;
}

export interface NumberedEntry extends Entry {
  /** Its sequence number in the log, from 1. */
  readonly seq: number;
}
