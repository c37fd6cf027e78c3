import { foundAndRequired } from '#libs/format/as-sentence.js';
import { momentIn } from '#libs/actions/record/times.js';
import { balancesOf, type JarBalance } from '#libs/store/queries/jar-balance.js';
import { lotsListed } from '#libs/store/queries/lists.js';
import {
  hasDensityByHydrometer,
  hasLotOf,
  lotsInState,
  lotsWithSomeLeft,
  type LotInProgress,
  packsUnderway,
  packsWithSealsToCheck,
} from '#libs/store/queries/work-in-progress.js';
import { utcOf } from '#libs/store/connection/instants.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { ofKind } from '#libs/store/queries/trace.js';
import { cautionsFor } from '../../text/cautions.js';
import { reportsWaiting } from '../returns/reports-waiting.js';
import { formContext } from '../../forms/form-view.js';
import { isAllowed } from '../../http/access.js';
import { cachedBodies } from '../../http/cached-bodies.js';
import { cachedPerBook } from '../../http/cached-while-unchanged.js';
import { type Principal, readerOf, thermometersFor } from '../../http/principal.js';
import { failedInstruments } from './failed-instruments.js';
import { many } from '../../text/amounts.js';
import { volumeText } from '#libs/format/format-house-volume.js';
import { filteredAsDrawn } from '../boils/filtered-as-drawn.js';
import { dayText } from '../../text/times.js';
import { goingOutGroups, returnedTitle } from './going-out.js';
import { reminders } from './reminders.js';
import { shelf } from './shelf.js';
import { boilWork, boughtWork, isBoiling, packWork, sapRow, sealsRow } from './work-rows.js';
import type { WorkInProgress } from '../returns/work-in-progress.js';

/** The most rows shown in each part of Today: the oldest or most urgent. */
const maxRows = 50;

/** The lots in progress, read together so that they go to the database in one batch. None of it depends on the time. */
async function readInProgress(reader: SugarhouseReader, year: number) {
  const since = year - 1;
  const [boils, packing, gathered, bought, packedThisYear, seals, hydrometerRead] = await Promise.all([
    lotsWithSomeLeft(reader, 'boil', since),
    packsUnderway(reader, since, maxRows),
    lotsWithSomeLeft(reader, 'gathering', since),
    lotsWithSomeLeft(reader, 'receipt', since),
    hasLotOf(reader, 'pack', year),
    packsWithSealsToCheck(reader, year, maxRows),
    hasDensityByHydrometer(reader),
  ]);
  return { boils, packing, gathered, bought, packedThisYear, seals, hydrometerRead };
}

/**
 * In order of urgency: what must not be sold or eaten, then work in progress, then what is waiting, then the stock and
 * the checks that are due.
 */
export async function todayPage(principal: Principal) {
  const { measures, parseOptions, house } = await formContext(principal);
  const now = momentIn(parseOptions.zone, principal.writeContext.now);
  const year = Number(now.slice(0, 4));
  const work = await readToday(principal, { now, year, zone: parseOptions.zone });
  const left = (lot: LotInProgress): string => volumeText(lot.leftMillilitres ?? 0, measures.volumes, measures.canada);
  return {
    title: 'Today',
    here: 'today',
    day: dayText(now),
    groups: todayGroups(work, left, now)
      .filter((group) => group.rows.length > 0)
      .map(({ title, rows, inAll = rows.length, first = maxRows, waits = false }) => ({
        title,
        waits,
        rows: rows.slice(0, first),
        folded: rows.slice(first, maxRows),
        more: Math.max(0, inAll - maxRows),
      })),
    failedInstruments: work.failed,
    thermometerDue: !work.thermometers.some((each) => each.checkedThisSeason),
    asksHydrometer: house !== undefined && house.hydrometerMadeFor === undefined && work.hydrometerRead,
    year,
    cautions: work.boils.some((lot) => isBoiling(work.boilBodies.get(lot.code))) ? cautionsFor('boil') : [],
    damage: principal.kind === 'person' && !principal.practice ? principal.server.damage?.found : undefined,
    empty:
      work.boils.length + work.gathered.length + work.bought.length === 0 &&
      (await lotsListed(readerOf(principal), 'pack', { from: 1, most: 1 })).count === 0,
  };
}

/** All that Today shows. Read together, so that it goes to the database in few batches. */
async function readToday(
  principal: Principal,
  { now, year, zone }: { readonly now: string; readonly year: number; readonly zone: string },
) {
  const reader = readerOf(principal);
  const [inProgress, held, thermometers, goingOut] = await Promise.all([
    cachedPerBook(principal, `in progress ${year}`, () => readInProgress(reader, year)),
    stoppedLots(principal),
    thermometersFor(principal, year),
    goingOutGroups(principal, now),
  ]);
  const onHold = goingOut.flatMap(({ rows }) => rows.filter(({ state }) => state === 'held').map(({ code }) => code));
  const [boilBodies, boughtBodies, gatheredBodies, { unlabelled, stock }, due, failed, fromCustomers] =
    await Promise.all([
      cachedBodies(principal, 'boil', inProgress.boils),
      cachedBodies(principal, 'receipt', inProgress.bought),
      cachedBodies(principal, 'gathering', inProgress.gathered),
      shelf(principal, year, new Set(onHold)),
      reminders(principal, now, inProgress.packedThisYear),
      failedInstruments(principal, now),
      isAllowed(principal.role, 'maker') ? reportsWaiting(principal, zone, now) : [],
    ]);
  const filtered = await filteredAsDrawn(
    reader,
    inProgress.boils.map(({ code }) => ({ code, body: boilBodies.get(code) })),
  );
  const read = {
    held,
    thermometers,
    goingOut,
    boilBodies,
    boughtBodies,
    gatheredBodies,
    unlabelled,
    stock,
    due,
    failed,
    fromCustomers,
  };
  return { ...inProgress, ...read, filtered };
}

interface TodayGroup {
  readonly title: string;
  readonly rows: readonly WorkInProgress[];
  /** How many there are, where more than `rows` may exist. */
  readonly inAll?: number;
  /** Rows in sight; the others are folded. */
  readonly first?: number;
  /** It can wait for the work in progress. */
  readonly waits?: true;
}

/** The groups of Today in their order, blank ones too. `left` writes how much of a lot is left. */
function todayGroups(
  work: Awaited<ReturnType<typeof readToday>>,
  left: (lot: LotInProgress) => string,
  now: string,
): TodayGroup[] {
  const { boils, boilBodies, packing, held, goingOut, seals } = work;
  const boilRow = (lot: LotInProgress): WorkInProgress =>
    boilWork(
      lot,
      boilBodies.get(lot.code),
      { text: left(lot), filteredAsDrawn: work.filtered.has(lot.code), stopped: stoppedStates.get(lot.code) },
      now,
    );
  const boiling = boils.filter((lot) => isBoiling(boilBodies.get(lot.code)));
  const underway = new Set(packing.map((each) => each.id));
  const stoppedStates = new Map(held.map(({ lot }) => [lot.code, lot.state]));
  const heldCodes = new Set(held.map(({ lot }) => lot.code));
  const stopped = held.filter(({ lot }) => !underway.has(lot.code)).map(stoppedRow);
  const isReturned = ({ title }: { readonly title: string }): boolean => title === returnedTitle;
  return [
    { title: 'Recalled', rows: stopped.filter(({ state }) => state === 'recalled') },
    ...goingOut.filter((group) => !isReturned(group)),
    { title: 'From a customer', rows: work.fromCustomers },
    // Many held packs must not push the boil or the pack in progress off a phone's first screens.
    { title: 'Held', rows: stopped.filter(({ state }) => state === 'held'), first: 5 },
    { title: 'Boiling now', rows: boiling.map(boilRow) },
    { title: 'Being packed', rows: packing.map((pack) => packWork(pack, heldCodes.has(pack.id))) },
    { title: 'Filter, rest, pack', waits: true, rows: boils.filter((lot) => !boiling.includes(lot)).map(boilRow) },
    {
      title: 'Sap waiting',
      waits: true,
      rows: work.gathered.map((lot) => sapRow(lot, work.gatheredBodies.get(lot.code)?.source, left(lot), now)),
    },
    {
      title: 'Bought, and waiting',
      waits: true,
      rows: work.bought.map((lot) => boughtWork(lot, work.boughtBodies.get(lot.code), left(lot))),
    },
    { title: 'Seals to check', waits: true, inAll: seals.count, rows: seals.packs.map((lot) => sealsRow(lot, now)) },
    ...goingOut.filter(isReturned).map((group) => ({ ...group, waits: true as const })),
    { title: 'Jars without labels', waits: true, rows: work.unlabelled, first: 3 },
    { title: 'Stock by size', waits: true, rows: work.stock },
    { title: 'Checks due', waits: true, rows: work.due },
  ];
}

function stoppedRow({ lot, jars }: { readonly lot: Lot; readonly jars: JarBalance | undefined }): WorkInProgress {
  const row = { code: lot.code, href: `/lots/${lot.code}`, state: lot.state };
  if (lot.state !== 'recalled')
    return { ...row, sentence: heldSentence(lot.verdict?.findings.find((finding) => finding.stop)) };
  const href = `/recall/calls?lot=${encodeURIComponent(lot.code)}`;
  return { ...row, sentence: recalledSentence(jars), next: { href, text: 'Recall calls' } };
}

/** Held and recalled lots with jars still on the shelf or with somebody: the others need nothing now. */
async function stoppedLots({
  book: { read },
  writeContext: context,
}: Principal): Promise<{ lot: Lot; jars: JarBalance | undefined }[]> {
  const { sugarhouse } = context;
  const states = ['recalled', 'held'] as const;
  const lots = (await Promise.all(states.map((state) => lotsInState({ sql: read, sugarhouse }, state)))).flat();
  const packs = ofKind(lots, 'pack').map((lot) => lot.code);
  const balances = await balancesOf({ sql: read, sugarhouse }, packs, utcOf(context.now));
  return lots
    .map((lot) => ({ lot, jars: lot.jars === undefined ? undefined : balances.get(lot.code) }))
    .filter(
      ({ jars }) =>
        !jars || jars.onHand > 0 || jars.sentOut > 0 || jars.parts.returnedApart > 0 || (jars.unaccounted ?? 0) !== 0,
    );
}

/** What a recall still needs: the jars that are out, then those on the shelf. */
function recalledSentence(jars: JarBalance | undefined): string {
  const out = jars && jars.sentOut > 0 ? [`${many(jars.sentOut, 'jar')} still out`] : [];
  const here = jars && jars.onHand > 0 ? [`${many(jars.onHand, 'jar')} on the shelf`] : [];
  const apart = jars && jars.parts.returnedApart > 0 ? [`${many(jars.parts.returnedApart, 'jar')} returned`] : [];
  const left = [...out, ...here, ...apart].join(', ');
  return left === '' ? 'Recalled.' : `Recalled: ${left}.`;
}

const heldSentence = (stop: { found: string; limit: string } | undefined): string =>
  stop ? foundAndRequired(stop) : 'Held by hand.';
