import type { HouseBody } from '#libs/records/kinds/house.js';
import { findRecord } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { confirmedRules, type PlaceRules } from '#libs/syrup/labelling/places.js';
import type { JarSeeds } from './allocate-jar-codes.js';
import type { ParseOptions } from './parse-options.js';
import { placeRules, usGradeStandard } from '../places/places.js';
import { isRefusal } from './problem.js';
import type { ReadFields } from './read-fields.js';
import { type SugarhouseReader, sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Who is writing, and when. Created for each request, command or file. */
export interface WriteContext {
  readonly sugarhouse: string;
  /** Initials of the writer, as recorded. */
  readonly by: string;
  /** The owner of the idempotency key: initials, the name of a script's key, or `import`. */
  readonly author: string;
  readonly now: Date;
  /** Used until the book sets its own zone. */
  readonly zone: string;
  /** Idempotency key: the same key twice is one entry. */
  readonly key?: string | undefined;
  /** Lot codes in other rows of the same file: the book must not generate these. */
  readonly reservedCodes?: ReadonlySet<string> | undefined;
  /** Known from looking up all rows of a file: the book has neither the key nor a record of this name. */
  readonly isNew?: boolean | undefined;
  /** The fields of what is recorded, parsed before as those of a new record: a file is parsed before it is written. */
  readonly readAsNew?: ReadFields | undefined;
  /** The source of a copied entry, when it wasn't typed at the time: `paper`, a file name. */
  readonly from?: string | undefined;
  /** The last entry about the lot that the writer has seen, if any. */
  readonly seen?: number | undefined;
  /** Seen on a page by the author: entries they wrote themselves since count as seen. */
  readonly seenOnPage?: boolean | undefined;
  /** What held the lot when the page was rendered (`holdsFingerprint`); absent for API calls and older forms. */
  readonly holdsShown?: string | undefined;
  /** The time on the writer's phone, and when this server started. */
  readonly phone?: { readonly clock: Date; readonly serverBegan: Date } | undefined;
  /** Read earlier in this write, with the clock checked: rows of a file don't read it one by one. */
  readonly houseContext?: SugarhouseContext | undefined;
  /** Drawn for the packs of a file. */
  readonly seeds?: JarSeeds | undefined;
  /** Somebody confirmed that the clock is right, though the last entry is later. */
  readonly clockIsRight?: boolean | undefined;
}

/** How to parse and judge in this sugarhouse: its zone, its gallon, the rules of its place. */
export interface SugarhouseContext {
  readonly house: HouseBody | undefined;
  readonly place: PlaceRules;
  readonly parseOptions: ParseOptions;
}

/** Loads the sugarhouse's units and the rules of its place; the US grade standard where no place is set. */
export const loadSugarhouseContext = async (
  sql: Sql,
  context: Pick<WriteContext, 'sugarhouse' | 'now' | 'zone'>,
): Promise<SugarhouseContext> => contextAt(await readHouse(sugarhouseReader(sql, context.sugarhouse)), context);

/** The part of the context that stays the same as long as nothing is written. */
type HouseAndPlace = Pick<SugarhouseContext, 'house' | 'place'>;

/** The sugarhouse's own record and the rules of its place. */
export async function readHouse(reader: SugarhouseReader): Promise<HouseAndPlace> {
  const house = (await findRecord(reader, 'house', 'house'))?.body;
  // A place is validated before it is saved; a book from elsewhere may still name one this version doesn't know.
  const named = placeRules(house?.place);
  const published = isRefusal(named) ? usGradeStandard() : named;
  const place =
    house?.leastDensityConfirmed === 'yes'
      ? confirmedRules(published, `${house.authorityWith ?? ''} on ${house.authorityOn ?? ''}`)
      : published;
  return { house, place };
}

/** The context at a moment, from what was read of the sugarhouse. */
export const contextAt = (
  { house, place }: HouseAndPlace,
  { now, zone }: Pick<WriteContext, 'now' | 'zone'>,
): SugarhouseContext => ({
  house,
  place,
  parseOptions: { zone: house?.zone ?? zone, volumes: { bareGallons: place.canada ? 'refused' : 'US' }, now },
});
