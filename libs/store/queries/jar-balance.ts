import type { DispatchKind } from '#libs/records/kinds/dispatch.js';
import { type JarAccount, jarAccounts, type TakenOff } from './pack-accounts.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';
import { type Flow, hasMoved, type Movement } from './trace.js';

/** Where a pack's jars are. made = onHand + sentOut + destroyed + other + (unaccounted ?? 0), always. */
export interface JarBalance {
  readonly made: number;
  /** The last count adjusted by later movements; without a count, what the book expects. */
  readonly onHand: number;
  /** Sold and given, less all that was returned. */
  readonly sentOut: number;
  readonly destroyed: number;
  /** Samples, retained, broken, poured back to be packed again, and returned jars that are set apart. */
  readonly other: number;
  /** null until the shelf is counted; below zero where more was found than there can be. */
  readonly unaccounted: number | null;
  readonly parts: Readonly<Record<DispatchKind | 'pouredBack' | 'returnedApart', number>>;
}

const noParts: JarBalance['parts'] = {
  sale: 0,
  gift: 0,
  sample: 0,
  kept: 0,
  retained: 0,
  broken: 0,
  destroyed: 0,
  returned: 0,
  pouredBack: 0,
  returnedApart: 0,
};
export const noJars: JarBalance = {
  made: 0,
  onHand: 0,
  sentOut: 0,
  destroyed: 0,
  other: 0,
  unaccounted: null,
  parts: noParts,
};

/** Balances of these packs, as of `nowUtc`: jars of later or stopped plans have not moved. */
export async function balancesOf(
  reader: SugarhouseReader,
  packs: readonly string[],
  nowUtc: string,
): Promise<Map<string, JarBalance>> {
  const accounts = await jarAccounts(reader, packs);
  return new Map([...accounts].map(([code, account]) => [code, balanceFrom(account, nowUtc)]));
}

/** The balance of a pack as of `nowUtc`; no jars where it has none yet. */
export async function balanceOf(reader: SugarhouseReader, pack: string, nowUtc: string): Promise<JarBalance> {
  return (await balancesOf(reader, [pack], nowUtc)).get(pack) ?? noJars;
}

/** The sum of several balances. */
export function sumBalances(balances: Iterable<JarBalance>): JarBalance {
  let sum = noJars;
  for (const each of balances)
    sum = {
      made: sum.made + each.made,
      onHand: sum.onHand + each.onHand,
      sentOut: sum.sentOut + each.sentOut,
      destroyed: sum.destroyed + each.destroyed,
      other: sum.other + each.other,
      unaccounted: each.unaccounted === null ? sum.unaccounted : (sum.unaccounted ?? 0) + each.unaccounted,
      parts: Object.fromEntries(
        Object.entries(sum.parts).map(([part, n]) => [part, n + each.parts[part as DispatchKind]]),
      ) as JarBalance['parts'],
    };
  return sum;
}

/** The last moment in UTC after which the balance of an account no longer changes by itself; empty where it never did. */
export function balanceChangesUntil({ movements, takenOff, counts, outOf }: JarAccount): string {
  const moments = [
    ...movements.flatMap(({ sentUtc, lookedUtc = '' }) => [sentUtc, lookedUtc]),
    ...takenOff.map(({ atUtc }) => atUtc),
    ...counts.map(({ countedUtc }) => countedUtc),
    ...outOf.map(({ atUtc }) => atUtc),
  ];
  return moments.reduce((last, each) => (each > last ? each : last), '');
}

/** The same from a pack's account that was already read. */
export function balanceFrom(account: JarAccount, nowUtc: string): JarBalance {
  const made = account.jars ?? 0;
  const moved = account.movements.filter((each) => hasMoved(each, nowUtc));
  const poured = account.outOf.filter((each) => each.atUtc <= nowUtc);
  const count = account.counts.filter((each) => each.countedUtc <= nowUtc).at(-1);
  const parts = { ...noParts } as Record<keyof JarBalance['parts'], number>;
  for (const each of moved) parts[each.kind] += each.jars;
  const returns = returnsOfSentJars(moved);
  parts.returned = returns.reduce((sum, { jars }) => sum + jars, 0);
  const looked = returns.filter((each) => each.lookedUtc !== undefined && each.lookedUtc <= nowUtc);
  const backOnShelf = looked.reduce((sum, each) => sum + each.backOnShelf, 0);
  const leftFromApart = moved.reduce((sum, each) => sum + each.fromReturned, 0);
  parts.returnedApart = Math.max(0, parts.returned - backOnShelf - leftFromApart);
  const takenOff = account.takenOff.filter((each) => each.atUtc <= nowUtc);
  const pouredByAction = jarsOf(takenOff, 'poured-back');
  parts.destroyed += jarsOf(takenOff, 'destroyed');

  // Jars poured back leave the shelf. Where the maker has also written them off, they are subtracted once.
  const gone =
    parts.sale +
    parts.gift -
    parts.returned +
    parts.destroyed +
    parts.sample +
    parts.kept +
    parts.retained +
    parts.broken +
    parts.returnedApart;
  const jarsIn = (flows: readonly Flow[]): number =>
    Math.round(flows.reduce((sum, each) => sum + each.millilitres, 0) / (account.jarMillilitres ?? Infinity));
  // Jars that an action poured back and a pack drawn from them are the same jars, recorded twice.
  parts.pouredBack = Math.max(0, Math.min(Math.max(jarsIn(poured), pouredByAction), made - gone));

  // Destroyed by count: subtracted from the shelf first, so that fewer are left to sell, then from those set apart.
  const short = gone + parts.pouredBack - made;
  if (short > 0) parts.returnedApart -= Math.min(short, parts.returnedApart);

  const sentOut = parts.sale + parts.gift - parts.returned;
  const destroyed = parts.destroyed;
  const other = parts.sample + parts.kept + parts.retained + parts.broken + parts.pouredBack + parts.returnedApart;
  const expected = made - sentOut - destroyed - other;
  if (!count) return { made, onHand: expected, sentOut, destroyed, other, unaccounted: null, parts };

  // A count is of the shelf: jars set apart were not on it, and join it once they are inspected.
  const leftSince = moved
    .filter((each) => each.sentUtc > count.countedUtc && each.kind !== 'returned')
    .reduce((sum, each) => sum + each.jars - each.fromReturned, 0);
  const backSince = looked
    .filter((each) => (each.lookedUtc ?? '') > count.countedUtc)
    .reduce((sum, each) => sum + each.backOnShelf, 0);
  const takenSince = takenOff.filter((each) => each.atUtc > count.countedUtc);
  const pouredSince = Math.max(
    jarsIn(poured.filter((each) => each.atUtc > count.countedUtc)),
    jarsOf(takenSince, 'poured-back'),
  );
  const onHand =
    count.jars - leftSince + backSince - jarsOf(takenSince, 'destroyed') - Math.min(pouredSince, parts.pouredBack);
  return { made, onHand, sentOut, destroyed, other, unaccounted: expected - onHand, parts };
}

/**
 * The returns with no more jars than were out by then: one of more contradicts what was recorded as sent, and its
 * further jars never become stock.
 */
export function returnsOfSentJars<M extends Returnable>(moved: readonly M[]): M[] {
  let out = 0;
  return [...moved].sort(oldestAndSentFirst).flatMap((each) => {
    if (each.kind === 'returned') {
      const jars = Math.max(0, Math.min(each.jars, out));
      out -= jars;
      return jars > 0 ? [{ ...each, jars, backOnShelf: Math.min(each.backOnShelf, jars) }] : [];
    }
    if (each.kind !== 'destroyed' && each.kind !== 'broken') out += each.jars;
    return [];
  });
}

type Returnable = Pick<Movement, 'kind' | 'jars' | 'sentUtc' | 'backOnShelf'>;
/** Compares movements by time; at the same time, jars are sent before they are returned. */
const oldestAndSentFirst = (a: Returnable, b: Returnable): number =>
  a.sentUtc < b.sentUtc
    ? -1
    : a.sentUtc > b.sentUtc
      ? 1
      : Number(a.kind === 'returned') - Number(b.kind === 'returned');

const jarsOf = (takenOff: readonly TakenOff[], kind: TakenOff['kind']): number =>
  takenOff.filter((each) => each.kind === kind).reduce((sum, each) => sum + each.jars, 0);
