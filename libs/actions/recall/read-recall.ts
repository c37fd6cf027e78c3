import type { NumberedEntry } from '#libs/records/entry.js';
import { hazardOf, loadLastRecalls } from './recall-entries.js';
import { packsOfSameSyrup } from './packs-of-same-syrup.js';
import { balanceFrom, noJars } from '#libs/store/queries/jar-balance.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { readHead } from '#libs/store/log/log.js';
import { movementsNaming, someJarsDownstream } from '#libs/store/queries/jars-downstream.js';
import { recordsAboutEach } from '#libs/store/connection/batch-queries.js';
import { findLot, findRecord, type Lot, recordsOf } from '#libs/store/queries/lots.js';
import { memberLots, receiptsNaming } from '#libs/store/queries/member-lots.js';
import { packAccounts } from '#libs/store/queries/pack-accounts.js';
import { type Flow, lotsDownstream, lotsUpstream, ofKind } from '#libs/store/queries/trace.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { prefixedLot } from '#libs/syrup/codes/lot-codes.js';
import { formatMethod, type JarRemoval, loadRemovalLookup } from '../jars/jar-removals.js';
import { listAuthorities, describeHouse, type SeasonContext } from '../season/read-season.js';
import { dispatchOf, stoppedPlans } from '../season/read-flow.js';
import type { CallMade, Recall, RecalledJars, RecalledLot, RecallHazard } from '#libs/reports/recall/recall.js';
import type { Dispatch } from '#libs/reports/season/flow.js';
import { formatBoth } from '#libs/format/format-volume-pair.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** What a recall of one or several lots covers: the packs, where their jars are, and whom to contact. */
export async function readRecall(
  reader: SugarhouseReader,
  from: string | readonly string[],
  houseContext: SeasonContext,
  input: { why?: string; by?: string; practice?: boolean; members?: boolean; hazard?: RecallHazard },
): Promise<Recall | undefined> {
  const { sql } = reader;
  const codes = typeof from === 'string' ? [from] : from;
  const [code] = codes;
  if (code === undefined || !(await findLot(reader, code))) return undefined;
  const packs = ofKind(await findForAll(codes, (each) => lotsDownstream(reader, each)), 'pack').filter(
    (pack) => pack.jars !== undefined,
  );
  const house = (await findRecord(reader, 'house', 'house'))?.body;
  const isRecalled = ({ state }: Lot): boolean => state === 'recalled';
  const recalls = await loadLastRecalls(reader, [...codes, ...packs.filter(isRecalled).map((pack) => pack.code)]);
  const [earliest] = recalls;
  const upstream = await findForAll(codes, (each) => lotsUpstream(reader, each));
  const dispatches = await loadDispatches(reader, packs, houseContext.asOf);
  return {
    from: formatLotCodes(codes),
    why: input.why ?? (joinReasons(recalls) || 'not recorded'),
    hazard: input.hazard ?? hazardOf(recalls),
    callsMade: await callsMade(reader, [...codes, ...packs.map((pack) => pack.code)]),
    startedAt: earliest?.happenedAt ?? null,
    notRecalled: packs.filter((pack) => !isRecalled(pack)).map((pack) => pack.code),
    by: input.by ?? earliest?.by ?? '',
    practice: input.practice ?? house?.practice ?? false,
    house: describeHouse(house, houseContext.place, []),
    asOf: houseContext.asOf,
    lots: await loadRecalledLots(reader, codes, packs, houseContext.asOf),
    jars: await loadRecalledJars(
      reader,
      packs.map((pack) => pack.code),
    ),
    dispatches: dispatches.filter((each) => !each.planned),
    plans: dispatches.filter((each) => each.planned),
    sameSyrup: await packsOfSameSyrup(
      reader,
      packs.map((pack) => pack.code),
    ),
    upstream: [
      ...upstream
        .filter((each) => !codes.includes(each.code))
        .map((each) => ({ code: each.code, words: `${upstreamText[each.kind]} ${each.at.slice(0, 10)}` })),
      ...(input.members ? await loadMemberLots(reader, codes, upstream) : []),
    ],
    people: houseContext.people,
    authorities: listAuthorities(house, houseContext.place),
    record: await readHead(sql),
  };
}

const joinReasons = (recalls: readonly NumberedEntry[]): string =>
  [...new Set(recalls.map(({ why }) => why ?? '').filter(Boolean))].join('; ');

async function callsMade(reader: SugarhouseReader, lots: readonly string[]): Promise<CallMade[]> {
  const about = new Set(lots);
  return (await recordsOf(reader, 'recall-call'))
    .filter(({ body }) => [body.lot, ...(body.lots ?? [])].some((lot) => about.has(lot)))
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

/** For a title: the only code, or the first and how many more; the list below has them all. */
const formatLotCodes = (codes: readonly string[]): string =>
  codes.length <= maxNamed
    ? codes.join(', ')
    : `${codes.slice(0, maxNamed).join(', ')} and ${codes.length - maxNamed} more lots`;
const maxNamed = 4;

/** The lots that `find` returns for each of several codes, without duplicates. */
async function findForAll(codes: readonly string[], find: (code: string) => Promise<Lot[]>): Promise<Lot[]> {
  const all = new Map<string, Lot>();
  for (const code of codes) for (const lot of await find(code)) all.set(lot.code, lot);
  return [...all.values()].sort((a, b) => (a.code < b.code ? -1 : 1));
}

const upstreamText: Readonly<Record<Lot['kind'], string>> = {
  gathering: 'sap gathered',
  receipt: 'received',
  boil: 'boiled',
  pack: 'packed',
};

/** Lots of other sugarhouses that are affected: those that went in, and those that these went into. */
async function loadMemberLots(reader: SugarhouseReader, codes: readonly string[], upstream: readonly Lot[]) {
  const receipts = ofKind(upstream, 'receipt').map((each) => each.code);
  const memberSources = (await memberLots(reader, receipts)).flatMap(({ house, receipt, theirLot, lot, upstream }) =>
    lot
      ? upstream.map((each) => ({
          code: prefixedLot(house.prefix, each.code),
          words: `${upstreamText[each.kind]} ${each.at.slice(0, 10)} at ${house.name}, by receipt ${receipt}`,
        }))
      : [{ code: prefixedLot(house.prefix, theirLot), words: `${house.name} has no such lot; receipt ${receipt}` }],
  );
  const below = await findForAll(codes, (each) => lotsDownstream(reader, each));
  const memberReceipts = await receiptsNaming(reader, [...codes, ...below.map((each) => each.code)]);
  return [
    ...memberSources,
    ...memberReceipts.map(({ house, receipt, theirLot }) => ({
      code: prefixedLot(house.prefix, receipt),
      words: `${theirLot} went on to ${house.name}: recall ${receipt} in its book too`,
    })),
  ];
}

/** Above this many jars the codes go into a file: forty pages of codes are no help on the telephone. */
const maxListedJars = 2000;

async function loadRecalledJars(reader: SugarhouseReader, packs: readonly string[]): Promise<RecalledJars> {
  const { count, jars } = await someJarsDownstream(reader, packs, { from: 1, most: maxListedJars + 1 });
  if (count > maxListedJars) return { count, listed: [] };
  const named = await movementsNaming(
    reader,
    jars.map((jar) => jar.code),
  );
  const takenOff = await loadRemovalLookup(reader, packs);
  return {
    count,
    listed: jars.map(({ pack, n, code }) => ({
      lot: pack,
      n,
      code: printedJarCode(code),
      dispatch: named.get(code)?.at(-1) ?? null,
      takenOff: removalText(takenOff(pack, n)),
    })),
  };
}

const removalText = (by: JarRemoval | undefined): string | null =>
  by ? `${formatMethod(by.way)} by ${by.id}, ${by.by}, ${by.at.slice(0, 10)}` : null;

async function loadRecalledLots(
  reader: SugarhouseReader,
  from: readonly string[],
  packs: readonly Lot[],
  asOf: string,
): Promise<RecalledLot[]> {
  const accounts = await packAccounts(
    reader,
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
      boundBy: describeLink(from, pack.code, account?.into ?? []),
    });
  }
  return lots;
}

function describeLink(from: readonly string[], pack: string, inputs: readonly Flow[]): string {
  if (from.includes(pack)) return 'the lot itself';
  return `packed from ${inputs.map((flow) => `${flow.from} (${formatAmount(flow)})`).join(' and ')}`;
}

async function loadDispatches(reader: SugarhouseReader, packs: readonly Lot[], asOf: string): Promise<Dispatch[]> {
  const about = await recordsAboutEach(
    reader,
    packs.map((pack) => pack.code),
    'dispatch',
  );
  const stopped = await stoppedPlans(reader);
  const all = [...about.values()].flat().map((saved) => dispatchOf(saved, asOf, stopped));
  return all.sort((a, b) => Date.parse(a.sentAt) - Date.parse(b.sentAt));
}

const formatAmount = ({ typed, millilitres }: Flow): string =>
  typed || (millilitres > 0 ? formatBoth(millilitres) : 'amount not recorded');
