import type { HouseBody } from '#libs/records/kinds/house.js';
import { readHead } from '#libs/store/log/log.js';
import { lotsNamed } from '#libs/store/connection/batch-queries.js';
import { findRecord, firstEntryOf, type Lot } from '#libs/store/queries/lots.js';
import { codesOfYear, countEntriesAboutLotsOf } from '#libs/store/queries/of-year.js';
import { seasonsBefore } from '#libs/store/projection/season-figures.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';
import {
  readBoils,
  readCarriedIn,
  readCounts,
  readDispatches,
  readDraws,
  readGatherings,
  readReceipts,
  readDisposals,
  readSyrupLeft,
} from './read-flow.js';
import { readSeasonLots } from './read-lots.js';
import { emptySeasonCache, loadKindOnce, type SeasonCache } from './season-parts.js';
import { readSupportingRecords } from './read-supporting-records.js';
import { readDeviations } from './read-deviations.js';
import { licenceText } from '#libs/reports/season/licence-text.js';
import { paperOfCountry } from '#libs/pdf/paper-size.js';
import { missingOf } from '#libs/reports/season/missing.js';
import type { Licence } from '#libs/reports/season/supporting-records.js';
import type { Authority, Caution, House, Person, Season } from '#libs/reports/season/season.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** What a document needs besides the records: the rules that judge, the cautions, who people are, and the time. */
export interface SeasonContext {
  readonly place: PlaceRules;
  readonly cautions: readonly Caution[];
  readonly people: readonly Person[];
  /** The moment the book is read, in the book's zone with its offset. */
  readonly asOf: string;
}

/**
 * Reads one season whole. Needs a snapshot: it makes many queries, which must all see the same state. `withoutLog`
 * skips the log: lots then come without history, deviations, late entries and reasons for their state, which a page of
 * figures doesn't show and which take longer to read than all the rest.
 */
export async function readSeason(
  reader: SugarhouseReader,
  year: number,
  houseContext: SeasonContext,
  {
    withoutLog = false,
    parts = emptySeasonCache(),
  }: { readonly withoutLog?: boolean; readonly parts?: SeasonCache } = {},
): Promise<Season> {
  const { sql } = reader;
  const house = (await findRecord(reader, 'house', 'house'))?.body;
  const packs = await codesOfYear(reader, 'pack', year);
  const boilCodes = await codesOfYear(reader, 'boil', year);
  const supporting = await readSupportingRecords(reader, year);
  const suspect = new Set(
    supporting.instrumentChecks.filter((check) => check.pass === false).map((check) => check.instrument),
  );
  const judged = withoutLog ? [] : await loadLotsInOrder(reader, [...boilCodes].reverse(), packs);
  const deviations = await readDeviations(reader, judged, withoutLog ? 0 : await firstEntryOf(reader, year));
  const boils = await readBoils(reader, boilCodes, deviations, { withoutLog, known: parts.boils });
  const lots = await readSeasonLots(reader, packs, {
    asOf: houseContext.asOf,
    suspectInstruments: suspect,
    deviations,
    withoutLog,
    parts,
  });
  const closed = await findRecord(reader, 'season', String(year));
  const season = {
    year,
    house: describeHouse(house, houseContext.place, supporting.licences),
    practice: house?.practice ?? false,
    asOf: houseContext.asOf,
    lots,
    boils,
    carriedIn: await readCarriedIn(reader, year, [...boils.map((boil) => boil.lot), ...packs], parts.carriedIn),
    earlier: await seasonsBefore(reader, year),
    gatherings: await loadKindOnce(parts, 'gathering', () => readGatherings(reader, year)),
    receipts: await loadKindOnce(parts, 'receipt', () => readReceipts(reader, year)),
    draws: await loadKindOnce(parts, 'draw', () => readDraws(reader, year)),
    dispatches: await readDispatches(reader, year, packs, { asOf: houseContext.asOf, known: parts.dispatches }),
    counts: await loadKindOnce(parts, 'count', () => readCounts(reader, year)),
    spent: await readDisposals(reader, year),
    syrupLeft: await readSyrupLeft(reader, year),
    side: supporting,
    people: houseContext.people,
    cautions: houseContext.cautions,
    authorities: listAuthorities(house, houseContext.place),
    closed: closed
      ? {
          by: closed.body.signed,
          at: closed.body.at,
          entries: closed.lastSeq,
          lotEntriesSince: await countEntriesAboutLotsOf(reader, year, closed.lastSeq),
        }
      : null,
    record: await readHead(sql),
  };
  return { ...season, missing: missingOf(season) };
}

async function loadLotsInOrder(reader: SugarhouseReader, ...codes: readonly (readonly string[])[]): Promise<Lot[]> {
  const found = await lotsNamed(reader, codes.flat());
  return codes.flat().flatMap((code) => found.get(code) ?? []);
}

/** The authority that the maker recorded first, with its telephone; then those of the place, which have no numbers. */
export function listAuthorities(house: HouseBody | undefined, place: PlaceRules): Authority[] {
  const own = [house?.['authority'], house?.['authorityPhone']].map((value) =>
    typeof value === 'string' ? value : '',
  );
  const [name = '', contact = ''] = own;
  return [
    ...(name || contact ? [{ name: name || 'the authority', asksAbout: '', contact: contact || null }] : []),
    ...place.authority.map((each) => ({ name: each.name, asksAbout: each.ask, contact: null })),
  ];
}

/** The sugarhouse as the season's documents describe it, with the limits of its place and their sources. */
export function describeHouse(house: HouseBody | undefined, place: PlaceRules, licences: readonly Licence[]): House {
  const { minimumBrix, standInMinimumBrix, maximumBrix } = place;
  const least = minimumBrix.gates ? minimumBrix : (standInMinimumBrix ?? minimumBrix);
  const most = maximumBrix ? ` and at most ${maximumBrix.value} °Bx` : '';
  return {
    name: house?.name ?? 'A sugarhouse not set up yet',
    addressLines: [house?.address, [house?.town, house?.postcode].filter(Boolean).join(' ')].filter(
      (line): line is string => !!line,
    ),
    telephone: house?.phone || null,
    licences: [...(house?.licence ? [house.licence] : []), ...licences.map(licenceText)],
    placeName: house?.place ? place.name : `${place.name} (no place was set)`,
    rulesName: `${place.standard}, rules ${place.rulesVersion}`,
    ...(house?.publicUrl ? { publicUrl: house.publicUrl } : {}),
    paper: paperOfCountry(place),
    leadLimitPpb: place.lead?.ppb,
    zone: house?.zone ?? 'not set',
    fillLimit: {
      f: 180,
      c: 82,
      words: '180 °F or 82 °C or more in the jar when capped, judged in the unit it was read in',
      source: 'maple food-safety handbook, filling hazards',
    },
    densityLimit: {
      minBrix: least.value,
      maxBrix: maximumBrix?.value ?? null,
      words: `at least ${least.value} °Bx${most}`,
      source: least.source,
    },
  };
}
