import type { CheckInterval } from '#libs/syrup/quantities/check-interval.js';
import type { HydrometerAnswer } from '#libs/syrup/instruments/hydrometer-temperature.js';
import type { Length } from '#libs/syrup/quantities/quantities.js';

export interface HouseBody {
  readonly name: string;
  readonly address: string;
  readonly town: string;
  readonly postcode: string;
  readonly phone: string;
  readonly email: string;
  /** Name of the place whose rules apply; empty where none is set. */
  readonly place: string;
  readonly zone: string;
  readonly temperatures: 'F' | 'C';
  readonly volumes: 'gal' | 'L';
  /** Everything printed from a practice book is marked PRACTICE. */
  readonly practice: boolean;
  /** How often a jar is read while a pack is filled; the usual interval where the maker set none. */
  readonly checkEvery?: CheckInterval | undefined;
  /** The temperature printed on its hydrometers; absent until somebody answers. */
  readonly hydrometerMadeFor?: HydrometerAnswer | undefined;
  /** Absent in books older than the field. */
  readonly elevation?: Length | undefined;
  /** Whether jars between readings further apart than `checkEvery` are held; absent in books older than the field. */
  readonly gapsHold?: 'yes' | 'no' | undefined;
  readonly publicUrl: string;
  readonly licence: string;
  /** Canada: whether the maker holds a federal licence, and its number. Absent in books older than the fields. */
  readonly federalLicence?: 'yes' | 'no' | undefined;
  readonly federalLicenceNumber?: string;
  /** The authority to ask, as the maker recorded it, and who confirmed it by telephone, when. */
  readonly authority?: string;
  readonly authorityPhone?: string;
  readonly authorityAddress?: string;
  readonly authorityWith?: string;
  readonly authorityOn?: string | undefined;
  /**
   * Whether the authority confirmed a least density for which we had read no source; absent in books older than the
   * field.
   */
  readonly leastDensityConfirmed?: 'yes' | 'no' | undefined;
  /** Two further places that the maker sells in; absent, like the fields below, in books older than them. */
  readonly authority2Place?: string;
  readonly authority2?: string;
  readonly authority2Phone?: string;
  readonly authority2Address?: string;
  readonly authority2With?: string;
  readonly authority2On?: string | undefined;
  readonly authority3Place?: string;
  readonly authority3?: string;
  readonly authority3Phone?: string;
  readonly authority3Address?: string;
  readonly authority3With?: string;
  readonly authority3On?: string | undefined;
  /** The look of labels, by the names in libs/labels. */
  readonly labelTypeface?: string | undefined;
  readonly labelColour?: string | undefined;
  readonly labelLayout?: string | undefined;
  /** Whether a jar's public page shows its story. */
  readonly jarStory?: 'yes' | 'no' | undefined;
  /** Prefix of its lot codes where a book has several sugarhouses; unique in the book. */
  readonly prefix?: string;
  readonly [field: string]: unknown;
}
