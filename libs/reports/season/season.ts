import type { CountRecord, Dispatch, Draw, Gathering, Receipt, SeasonBoil, Disposal } from './flow.js';
import type { PaperSize } from '#libs/pdf/paper-size.js';
import type { SeasonLot } from './lot.js';
import type { SupportingRecords } from './supporting-records.js';

/**
 * The data of one season for all its documents: plain readonly values, times as ISO 8601 with their offset, quantities
 * as typed and in SI. The caller reads it from the book; nothing here queries the store. Arrays of supporting records
 * may be empty; null always means not read or not recorded.
 */
export interface Season {
  readonly year: number;
  readonly house: House;
  /** Documents of a practice book are marked on every page. */
  readonly practice: boolean;
  /** When the book was read for this document, ISO with offset. */
  readonly asOf: string;
  /** Packs packed this year, in the order they were packed. */
  readonly lots: readonly SeasonLot[];
  /** Boils begun this year, in order. */
  readonly boils: readonly SeasonBoil[];
  /** Boils and packs of earlier years whose syrup went into this year's boils and packs. */
  readonly carriedIn: readonly CarriedIn[];
  /** Totals of earlier seasons, oldest first; absent where they were not read. */
  readonly earlier?: readonly { readonly year: number; readonly syrupMillilitres: number; readonly jars: number }[];
  readonly gatherings: readonly Gathering[];
  readonly receipts: readonly Receipt[];
  readonly draws: readonly Draw[];
  /** Only dispatches sent by `asOf` count; later ones are plans (`planned`). */
  readonly dispatches: readonly Dispatch[];
  readonly counts: readonly CountRecord[];
  readonly spent: readonly Disposal[];
  /** Syrup of the year's boils that went into no jar and has no recorded use. */
  readonly syrupLeft: readonly { readonly lot: string; readonly millilitres: number }[];
  readonly side: SupportingRecords;
  /** Initials and full names, as in the book. */
  readonly people: readonly Person[];
  /** Sentences for the place and for hot work, each with its source. */
  readonly cautions: readonly Caution[];
  /** Whom to ask. */
  readonly authorities: readonly Authority[];
  /** What is still missing before the season can be closed, one sentence each. Empty when nothing is. */
  readonly missing: readonly MissingItem[];
  /** Who closed and signed the season, or null while it is open. */
  readonly closed: SeasonClosed | null;
  readonly record: RecordRoot;
}

export interface House {
  readonly name: string;
  readonly addressLines: readonly string[];
  readonly telephone: string | null;
  /** Licence or registration numbers as the maker typed them, `Producer licence 0000`. */
  readonly licences: readonly string[];
  /** The place whose rules apply, such as `Vermont`. */
  readonly placeName: string;
  /** Name and version of the rule set, such as `Vermont 2026-1`. */
  readonly rulesName: string;
  /** The public address of the book, such as `https://jars.example`; absent where none is set. */
  readonly publicUrl?: string;
  /** The usual paper of its place; US letter by default. */
  readonly paper?: PaperSize;
  /** Lead in syrup above which the place acts, in parts per billion; absent where no limit was found in a source. */
  readonly leadLimitPpb?: number | undefined;
  /** IANA zone of the book's times. */
  readonly zone: string;
  /** The least temperature in the jar when capped, in both units as the rules print it. */
  readonly fillLimit: { readonly f: number; readonly c: number; readonly words: string; readonly source: string };
  /** The legal density band; `most` is null where the place sets none. */
  readonly densityLimit: {
    readonly minBrix: number;
    readonly maxBrix: number | null;
    readonly words: string;
    readonly source: string;
  };
}

/** A signature covers the record as it was then; what was recorded later isn't signed. */
export interface SeasonClosed {
  readonly by: string;
  readonly at: string;
  /** The number of its entry in the log: the entries that the signature covers, itself included. */
  readonly entries: number;
  /** Later entries about lots of this season. */
  readonly lotEntriesSince: number;
}

/** The head of the log: the number of entries and their Merkle root in lower-case hex. */
export interface RecordRoot {
  readonly entries: number;
  readonly root: string;
}

export interface Person {
  readonly initials: string;
  readonly name: string;
  readonly role: string;
}

export interface Caution {
  readonly words: string;
  readonly source: string;
}

export interface Authority {
  readonly name: string;
  /** Blank for the authority that the maker recorded: what to ask it is not recorded. */
  readonly asksAbout: string;
  readonly contact: string | null;
}

export interface MissingItem {
  /** A lot, an instrument or null where it concerns the season. */
  readonly code: string | null;
  readonly words: string;
}

export interface CarriedIn {
  readonly code: string;
  readonly into: string;
  readonly volumeTyped: string;
  readonly millilitres: number;
}
