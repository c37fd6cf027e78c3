import type { RecordByKind, RecordKind } from './record-types.js';
import type { Verdict } from '#libs/syrup/rules/verdict.js';

export type LotState = 'open' | 'held' | 'released' | 'recalled';
export type EntryType = 'record' | 'add' | 'correct' | 'hold' | 'act' | 'release' | 'recall' | 'void' | 'photo';

/** A record as it stands after an entry. A union over the kinds: `kind` decides the type of `body`. */
export type RecordRow<K extends RecordKind = RecordKind> = {
  [P in K]: {
    readonly kind: P;
    /** The lot code of a boil or pack; else the record's own id. */
    readonly id: string;
    /** The maker's own id for a boil or a pack, where one was given. */
    readonly ownId?: string | undefined;
    /** The lot that it is about, where it isn't one itself. */
    readonly lot?: string | undefined;
    /** Each field as it was typed. */
    readonly typed: Readonly<Record<string, string>>;
    /** What was read from it. */
    readonly body: RecordByKind[P];
  };
}[K];

/** The verdict on a lot when the entry was written. Replay copies it and never recomputes it. */
export interface Judged {
  readonly lot: string;
  readonly state: LotState;
  /** Since when it has been held, or had been held before its release. */
  readonly heldSince?: string | undefined;
  readonly verdict?: Verdict | undefined;
}

/** Jars that got their codes with this entry: numbers `from` to `from + count - 1` of the pack. */
export interface JarsGiven {
  readonly pack: string;
  readonly from: number;
  readonly count: number;
  /** 32 bytes in hex: the code of jar n is drawn from HMAC(seed, n, try). */
  readonly seed: string;
  /** [n, tries passed over because another jar of the book had that code]. */
  readonly skips: readonly (readonly [number, number])[];
}

/** A record that an entry says did not happen. */
export interface VoidedRecord {
  readonly kind: RecordKind;
  readonly id: string;
}

/** A photo that was added to a record: the image is kept beside the log, its hash in it. */
export interface PhotoTaken {
  readonly kind: RecordKind;
  readonly id: string;
  /** Of the stored image, which is a JPEG, in lower-case hex. */
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
  /** Who may not send the same thing twice: initials, a key's name, or `import`. */
  readonly author: string;
  readonly key: string;
  /** Hash of what was sent: the same key with another body is refused. */
  readonly sent: string;
  /** The lots whose history shows this entry. */
  readonly about: readonly string[];
  readonly record?: RecordRow | undefined;
  readonly judged?: readonly Judged[] | undefined;
  readonly jars?: JarsGiven | undefined;
  /** Of a void: the record that did not happen; `corrects` is its last entry. */
  readonly voids?: VoidedRecord | undefined;
  readonly photo?: PhotoTaken | undefined;
  /** Why a record was corrected, or a lot held, acted on, released or recalled. */
  readonly corrects?: number | undefined;
  readonly why?: string | undefined;
  /** Content of a hold, an action or a recall: found, done, readings. */
  readonly said?: Readonly<Record<string, unknown>> | undefined;
  /** The source of the entry when it was not typed here: copied from paper, imported from a file. */
  readonly from?: string | undefined;
}

export interface NumberedEntry extends Entry {
  /** Its place in the log, from 1. */
  readonly seq: number;
}
