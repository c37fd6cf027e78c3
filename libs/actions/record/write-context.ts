import type { HouseBody } from '#libs/records/kinds/house.js';
import { findRecord } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { confirmedRules, type PlaceRules } from '#libs/syrup/labelling/places.js';
import type { ParseOptions } from './parse-options.js';
import { isRefusal, placeRules } from '../places/places.js';
import { type SugarhouseReader, sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Who is writing, and when. Made anew for each request, command or file. */
export interface WriteContext {
  readonly sugarhouse: string;
  /** Initials of the writer, as recorded. */
  readonly by: string;
  /** Whose keys count: initials, the name of a script's key, or `import`. */
  readonly author: string;
  readonly now: Date;
  /** Used until the book has a zone of its own. */
  readonly zone: string;
  /** Idempotency: the same key twice is one entry. */
  readonly key?: string | undefined;
  /** Lot codes that other rows of the same file bring with them: the book gives none of these by itself. */
  readonly reservedCodes?: ReadonlySet<string> | undefined;
  /** Looked up with the other rows of a file: the book has neither the key nor a record of this name. */
  readonly isNew?: boolean | undefined;
  /** Where the entry was copied from, when it wasn't typed at the time: `paper`, a file's name. */
  readonly from?: string | undefined;
  /** The last entry about the lot that the writer has seen, where they looked at it first. */
  readonly seen?: number | undefined;
  /** Seen on a page by the author: what they wrote themselves since is seen as well. */
  readonly seenOnPage?: boolean | undefined;
  /** The time on the writer's phone, and when this server was started. */
  readonly phone?: { readonly says: Date; readonly serverBegan: Date } | undefined;
  /** Read in this very write, with the clock checked: rows of a file don't ask for it one by one. */
  readonly houseContext?: SugarhouseContext | undefined;
  /** Somebody has looked: the clock is right, though the last entry is later. */
  readonly clockIsRight?: boolean | undefined;
}

/** How to read and judge in this house: its zone, its gallon, the rules of its place. */
export interface SugarhouseContext {
  readonly house: HouseBody | undefined;
  readonly place: PlaceRules;
  readonly parseOptions: ParseOptions;
}

/** Reads how the house measures and which rules its place has; the US grade standard where no place is set. */
export const loadSugarhouseContext = async (
  sql: Sql,
  context: Pick<WriteContext, 'sugarhouse' | 'now' | 'zone'>,
): Promise<SugarhouseContext> => contextAt(await readHouse(sugarhouseReader(sql, context.sugarhouse)), context);

/** What of the context is the same at any time, as long as nothing is written. */
type HouseRead = Pick<SugarhouseContext, 'house' | 'place'>;

/** The house's own record and the rules of its place. */
export async function readHouse(reader: SugarhouseReader): Promise<HouseRead> {
  const house = (await findRecord(reader, 'house', 'house'))?.body;
  // A place is checked before it is kept; a book from elsewhere may still name one this program doesn't know.
  const named = placeRules(house?.place);
  const ofPlace = isRefusal(named) ? (placeRules() as PlaceRules) : named;
  const place =
    house?.leastDensityConfirmed === 'yes'
      ? confirmedRules(ofPlace, `${house.authorityWith ?? ''} on ${house.authorityOn ?? ''}`)
      : ofPlace;
  return { house, place };
}

/** The context at a moment, of what was read of the house. */
export const contextAt = (
  { house, place }: HouseRead,
  { now, zone }: Pick<WriteContext, 'now' | 'zone'>,
): SugarhouseContext => ({
  house,
  place,
  parseOptions: { zone: house?.zone ?? zone, volumes: { bareGallons: place.canada ? 'refused' : 'US' }, now },
});
