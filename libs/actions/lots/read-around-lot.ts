import type { BoilBody, DispatchBody, DrawBody, GatheringBody, ReceiptBody } from '#libs/records/record-types.js';
import type { RecordKind } from '#libs/records/entry.js';
import { findRecord, type Lot, recordsAbout } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { lotsDownstream, lotsUpstream, ofKind } from '#libs/store/queries/trace.js';
import { drawReadings } from './read-readings.js';
import { houseOf, type SeasonContext } from '../season/read-season.js';
import { boilsFrom, dispatchOf, gatheringsFrom, receiptsFrom } from '../season/read-flow.js';
import { readSeasonLots } from '../season/read-lots.js';
import type { Season } from '#libs/reports/season/season.js';

/**
 * What belongs to one lot only, in the shape of a season, so that the same drawings serve a page: the lots
 * upstream and the packs downstream, with their sap, draw-offs and dispatches. At most a hundred packs.
 */
export async function readAroundLot(
  sql: Sql,
  sugarhouse: string,
  code: string,
  houseContext: SeasonContext,
): Promise<Season> {
  const upstream = await lotsUpstream(sql, sugarhouse, code);
  const below = await lotsDownstream(sql, sugarhouse, code);
  const lots = [...new Map([...upstream, ...below].map((lot) => [lot.code, lot])).values()];
  const packs = ofKind(lots, 'pack')
    .filter((lot) => lot.jars !== undefined)
    .slice(0, 100);
  const boils = await records<BoilBody>(sql, sugarhouse, lots, 'boil');
  return {
    year: Number(houseContext.asOf.slice(0, 4)),
    house: houseOf(undefined, houseContext.place, []),
    practice: false,
    asOf: houseContext.asOf,
    lots: await readSeasonLots(sql, sugarhouse, packs, houseContext.asOf, new Set(), new Map()),
    boils: await boilsFrom(sql, sugarhouse, boils),
    carriedIn: [],
    gatherings: gatheringsFrom(await records<GatheringBody>(sql, sugarhouse, lots, 'gathering')),
    receipts: receiptsFrom(await records<ReceiptBody>(sql, sugarhouse, lots, 'receipt')),
    draws: (await about<DrawBody>(sql, sugarhouse, ofKind(lots, 'boil'), 'draw')).map(({ id, body }) => ({
      id,
      boil: body.boil,
      drawnAt: body.drawnAt,
      volumeTyped: body.volume.typed,
      millilitres: body.volume.millilitres,
      readings: drawReadings(body),
      filterMedium: body.filterMedium || null,
      vessel: body.vessel || null,
      by: body.by || null,
    })),
    dispatches: (await about<DispatchBody>(sql, sugarhouse, packs, 'dispatch')).map((saved) =>
      dispatchOf(saved, houseContext.asOf),
    ),
    counts: [],
    spent: [],
    syrupLeft: [],
    side: {
      instruments: [],
      instrumentChecks: [],
      cleanings: [],
      filterWashings: [],
      equipment: [],
      supplies: [],
      defoamers: [],
      waterTests: [],
      leadTests: [],
      practiceRecalls: [],
      complaints: [],
      trainings: [],
      licences: [],
    },
    people: houseContext.people,
    cautions: [],
    authorities: [],
    missing: [],
    closed: null,
    record: { entries: 0, root: '' },
  };
}

async function records<Body>(sql: Sql, sugarhouse: string, lots: readonly Lot[], kind: Lot['kind']) {
  const found: { id: string; body: Body }[] = [];
  for (const lot of ofKind(lots, kind)) {
    const record = await findRecord<Body>(sql, sugarhouse, kind, lot.code);
    if (record) found.push(record);
  }
  return found.sort((a, b) => (a.id < b.id ? -1 : 1));
}

async function about<Body>(sql: Sql, sugarhouse: string, lots: readonly Lot[], kind: RecordKind) {
  const found: { id: string; body: Body; typed: Readonly<Record<string, string>> }[] = [];
  for (const lot of lots) found.push(...(await recordsAbout<Body>(sql, sugarhouse, lot.code, kind)));
  return found;
}
