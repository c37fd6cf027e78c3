import { balanceFrom, noJars } from '#libs/store/queries/jar-balance.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { historyOf, readHead } from '#libs/store/log/log.js';
import { movementsNaming, someJarsBelow } from '#libs/store/queries/jars-below.js';
import { recordsAboutEach } from '#libs/store/connection/batch-queries.js';
import { findLot, findRecord, type Lot } from '#libs/store/queries/lots.js';
import { memberLots, receiptsNaming } from '#libs/store/queries/member-lots.js';
import { packAccounts } from '#libs/store/queries/pack-accounts.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { type Flow, lotsDownstream, lotsUpstream, ofKind } from '#libs/store/queries/trace.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { prefixedLot } from '#libs/syrup/codes/lot-codes.js';
import { authoritiesOf, houseOf, type SeasonContext } from '../season/read-season.js';
import { dispatchOf } from '../season/read-flow.js';
import type { CallMade, Recall, RecalledJars, RecalledLot, RecallHazard } from '#libs/reports/recall/recall.js';
import type { Dispatch } from '#libs/reports/season/flow.js';
import { formatBoth } from '#libs/format/format-volume-pair.js';

/** What is to be called back from one lot on, or from several: the packs, where their jars are, and whom to reach. */
export async function readRecall(
  sql: Sql,
  sugarhouse: string,
  from: string | readonly string[],
  houseContext: SeasonContext,
  input: { why?: string; by?: string; practice?: boolean; members?: boolean; hazard?: RecallHazard },
): Promise<Recall | undefined> {
  const codes = typeof from === 'string' ? [from] : from;
  const [code] = codes;
  if (code === undefined || !(await findLot(sql, sugarhouse, code))) return undefined;
  const packs = ofKind(await allOf(codes, (each) => lotsDownstream(sql, sugarhouse, each)), 'pack').filter(
    (pack) => pack.jars !== undefined,
  );
  const house = (await findRecord(sql, sugarhouse, 'house', 'house'))?.body;
  const recalled = (await historyOf(sql, sugarhouse, code)).filter((entry) => entry.deed === 'recall').at(-1);
  const upstream = await allOf(codes, (each) => lotsUpstream(sql, sugarhouse, each));
  const dispatches = await dispatchesOf(sql, sugarhouse, packs, houseContext.asOf);
  return {
    from: fewOf(codes),
    why: input.why ?? recalled?.why ?? 'not recorded',
    hazard: input.hazard ?? hazardIn(recalled?.said),
    callsMade: await callsMade(sql, sugarhouse, [...codes, ...packs.map((pack) => pack.code)]),
    startedAt: recalled?.happenedAt ?? houseContext.asOf,
    by: input.by ?? recalled?.by ?? '',
    practice: input.practice ?? house?.practice ?? false,
    house: houseOf(house, houseContext.place, []),
    asOf: houseContext.asOf,
    lots: await recalledLots(sql, sugarhouse, codes, packs, houseContext.asOf),
    jars: await recalledJars(
      sql,
      sugarhouse,
      packs.map((pack) => pack.code),
    ),
    dispatches: dispatches.filter((each) => !each.planned),
    plans: dispatches.filter((each) => each.planned),
    upstream: [
      ...upstream
        .filter((each) => !codes.includes(each.code))
        .map((each) => ({ code: each.code, words: `${upstreamWords[each.kind]} ${each.at.slice(0, 10)}` })),
      ...(input.members ? await acrossHouses(sql, sugarhouse, codes, upstream) : []),
    ],
    people: houseContext.people,
    authorities: authoritiesOf(house, houseContext.place),
    record: await readHead(sql),
  };
}

function hazardIn(formatted: Readonly<Record<string, unknown>> | undefined): RecallHazard {
  const text = (name: string): string | null => (typeof formatted?.[name] === 'string' ? formatted[name] : null);
  return { hazard: text('hazard'), whoMayBeHurt: text('whoMayBeHurt'), whatToDo: text('whatToDo') };
}

async function callsMade(sql: Sql, sugarhouse: string, lots: readonly string[]): Promise<CallMade[]> {
  const about = await recordsAboutEach(sql, sugarhouse, [...new Set(lots)], 'recall-call');
  return [...about.values()]
    .flat()
    .map(({ body }) => ({
      to: body.to,
      at: body.at,
      by: body.by,
      telephone: body.telephone ?? null,
      reached: body.reached === undefined ? null : body.reached === 'yes',
      spokeTo: body.spokeTo || null,
      keptApart: body.keptApart ?? null,
      note: body.note || null,
    }))
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
}

/** As a title says it: what it began from, or the first of many; the list below has them all. */
const fewOf = (codes: readonly string[]): string =>
  codes.length <= mostNamed
    ? codes.join(', ')
    : `${codes.slice(0, mostNamed).join(', ')} and ${codes.length - mostNamed} more lots`;
const mostNamed = 4;

/** The lots that each of several leads to, every one once. */
async function allOf(codes: readonly string[], find: (code: string) => Promise<Lot[]>): Promise<Lot[]> {
  const all = new Map<string, Lot>();
  for (const code of codes) for (const lot of await find(code)) all.set(lot.code, lot);
  return [...all.values()].sort((a, b) => (a.code < b.code ? -1 : 1));
}

const upstreamWords: Readonly<Record<Lot['kind'], string>> = {
  gathering: 'sap gathered',
  receipt: 'received',
  boil: 'boiled',
  pack: 'packed',
};

/** Lots of other sugarhouses that share the trouble: those that went in, and those that these went into. */
async function acrossHouses(sql: Sql, sugarhouse: string, codes: readonly string[], upstream: readonly Lot[]) {
  const receipts = ofKind(upstream, 'receipt').map((each) => each.code);
  const came = (await memberLots(sql, sugarhouse, receipts)).flatMap(({ house, receipt, theirLot, lot, upstream }) =>
    lot
      ? upstream.map((each) => ({
          code: prefixedLot(house.prefix, each.code),
          words: `${upstreamWords[each.kind]} ${each.at.slice(0, 10)} at ${house.name}, by receipt ${receipt}`,
        }))
      : [{ code: prefixedLot(house.prefix, theirLot), words: `${house.name} has no such lot; receipt ${receipt}` }],
  );
  const below = await allOf(codes, (each) => lotsDownstream(sql, sugarhouse, each));
  const went = await receiptsNaming(sql, sugarhouse, [...codes, ...below.map((each) => each.code)]);
  return [
    ...came,
    ...went.map(({ house, receipt, theirLot }) => ({
      code: prefixedLot(house.prefix, receipt),
      words: `${theirLot} went on to ${house.name}: recall ${receipt} in its book too`,
    })),
  ];
}

/** More jars than these are a file and no list: forty pages of codes help nobody at the telephone. */
const mostJars = 2000;

async function recalledJars(sql: Sql, sugarhouse: string, packs: readonly string[]): Promise<RecalledJars> {
  const { count, jars } = await someJarsBelow(sql, sugarhouse, packs, { from: 1, most: mostJars + 1 });
  if (count > mostJars) return { count, listed: [] };
  const named = await movementsNaming(
    sql,
    sugarhouse,
    jars.map((jar) => jar.code),
  );
  return {
    count,
    listed: jars.map(({ pack, n, code }) => ({
      lot: pack,
      n,
      code: printedJarCode(code),
      dispatch: named.get(code)?.at(-1) ?? null,
    })),
  };
}

async function recalledLots(
  sql: Sql,
  sugarhouse: string,
  from: readonly string[],
  packs: readonly Lot[],
  asOf: string,
): Promise<RecalledLot[]> {
  const accounts = await packAccounts(
    sql,
    sugarhouse,
    packs.map((pack) => pack.code),
  );
  const lots: RecalledLot[] = [];
  for (const pack of packs) {
    const account = accounts.get(pack.code);
    const jars = account ? balanceFrom(account, utcOf(asOf)) : noJars;
    lots.push({
      lot: pack.code,
      packedAt: pack.at,
      container: pack.container ?? '',
      jarsMade: jars.made,
      jarsOnHand: jars.onHand,
      jarsSentOut: jars.sentOut,
      jarsDestroyed: jars.destroyed,
      jarsOther: jars.other,
      unaccounted: jars.unaccounted,
      boundBy: boundBy(from, pack.code, account?.into ?? []),
    });
  }
  return lots;
}

function boundBy(from: readonly string[], pack: string, inputs: readonly Flow[]): string {
  if (from.includes(pack)) return 'the lot itself';
  return `packed from ${inputs.map((flow) => `${flow.from} (${flow.typed || formatBoth(flow.millilitres)})`).join(' and ')}`;
}

async function dispatchesOf(sql: Sql, sugarhouse: string, packs: readonly Lot[], asOf: string): Promise<Dispatch[]> {
  const about = await recordsAboutEach(
    sql,
    sugarhouse,
    packs.map((pack) => pack.code),
    'dispatch',
  );
  const all = [...about.values()].flat().map((saved) => dispatchOf(saved, asOf));
  return all.sort((a, b) => Date.parse(a.sentAt) - Date.parse(b.sentAt));
}
