import { balanceFrom, type JarBalance, noJars, sumBalances } from '#libs/store/queries/jar-balance.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { findJar, type Jar, type Lot, recordsAbout } from '#libs/store/queries/lots.js';
import { type JarAccount, jarAccounts, type PackAccount, packAccounts } from '#libs/store/queries/pack-accounts.js';
import { packSyrup, type SyrupBalance, syrupBalance } from '#libs/store/queries/syrup-balance.js';
import {
  codesByMovement,
  hasMoved,
  lotsDownstream,
  lotsUpstream,
  type Movement,
  movementsOfJar,
  oldestFirst,
  ofKind,
} from '#libs/store/queries/trace.js';
import type { JarSpan } from '#libs/syrup/jars/jar-spans.js';
import { printedJarCode, readJarCode } from '#libs/syrup/codes/jar-codes.js';
import { jarRemovals, type JarRemoval } from '../jars/jar-removals.js';
import { type Refusal, unknown } from '../record/problem.js';
import { lookUpLot } from '../record/references.js';
import { type TracedMember, traceMembers } from './trace-members.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export interface Trace {
  readonly code: string;
  readonly kind: 'jar' | 'pack' | 'boil' | 'sap';
  /** The pack of a jar, or the pack itself; null for boils and sap. */
  readonly pack: string | null;
  /** For a jar: its number in the pack. */
  readonly jar?: {
    readonly n: number;
    readonly printed: string;
    readonly dispatches: readonly string[];
    readonly maybeAmong: readonly string[];
  };
  readonly boils: readonly string[];
  /** Gatherings, and receipts of bought sap or syrup, from which the lot came. */
  readonly gatherings: readonly string[];
  /** Those of `gatherings` that were bought or a neighbour's. */
  readonly receipts: readonly string[];
  /** Packs that were poured back into it, or into which it went. */
  readonly packs: readonly TracedPack[];
  readonly jars: TracedJarCounts;
  /** Where its sap or syrup is, in litres: there = left + inJars + lost. */
  readonly syrupLitres: SyrupBalance;
  readonly dispatches: readonly TracedDispatch[];
  /** Corrective actions that destroyed jars of the pack or poured them back; for a jar those that name it. */
  readonly actions: readonly JarRemoval[];
  readonly status: Lot['state'];
  /**
   * For a finished pack or its jar: the jars that no fill reading covers. Empty where all are covered, and for other
   * lots.
   */
  readonly uncoveredJars: readonly JarSpan[];
  /** Lots of other sugarhouses that went in, by receipts that name them; only for people who may see them. */
  readonly members?: readonly TracedMember[];
}
export type TracedJarCounts = Pick<JarBalance, 'made' | 'onHand' | 'sentOut' | 'destroyed' | 'other' | 'unaccounted'>;
export interface TracedPack {
  readonly lot: string;
  readonly container: string;
  readonly packedAt: string;
  readonly status: Lot['state'];
  readonly jars: TracedJarCounts;
}
export interface TracedDispatch {
  readonly id: string;
  readonly lot: string;
  readonly jars: number;
  readonly sentAt: string;
  readonly to: string;
  readonly kind: Movement['kind'];
  readonly contact: string;
  /** Planned, not sent yet. */
  readonly planned: boolean;
  /** Whether the dispatch names its jars. */
  readonly byCodes: boolean;
  /** Jar codes as printed; empty where jars were only counted. */
  readonly codes: readonly string[];
}

/**
 * Traces a jar or a lot upstream to its boils and sap, and to where its jars went. `down` reverses the direction: the
 * packs downstream of a boil or gathering and where all their jars are. A boil or gathering always looks downstream for
 * its jars. Without `codes` no dispatch lists its jars: a caller that shows a hundred doesn't need a list of a million.
 */
export async function traceLot(
  reader: SugarhouseReader,
  typed: string,
  now: Date,
  options: TraceOptions = {},
): Promise<Trace | Refusal> {
  const found = await traceWithSources(reader, typed, now, options);
  return 'problem' in found ? found : found.trace;
}

interface TraceOptions {
  readonly members?: boolean;
  readonly codes?: boolean;
}

/** A trace with the data it was made from, for a page that draws the lot's flow. */
export interface TraceWithSources {
  readonly trace: Trace;
  readonly lot: Lot;
  /** For a pack and those poured back into it only. */
  readonly accounts: ReadonlyMap<string, PackAccount>;
  /** For a pack: the corrective actions that took jars off the shelf; for a jar's number, those that name it. */
  readonly takenOff: (jar?: number) => JarRemoval[];
  /** For a jar: the dispatches that name it, oldest first. */
  readonly ofJar?: readonly Movement[];
}

/** A jar with the dispatches that name it, oldest first. */
export interface JarWithDispatches {
  readonly jar: Jar;
  readonly ofJar: readonly Movement[];
}

/** Traces a jar or a lot, by its code as typed, to its sap and its buyers; a refusal where nothing has that code. */
export async function traceWithSources(
  reader: SugarhouseReader,
  typed: string,
  now: Date,
  options: TraceOptions = {},
): Promise<TraceWithSources | Refusal> {
  const jar = await loadJar(reader, typed);
  if (jar) {
    const found = await tracePack(reader, jar.jar.pack, now, options);
    return found ? traceOfJar(found, jar) : unknown('jar or lot', typed.trim());
  }
  const code = (await lookUpLot(reader, typed))?.code;
  const found = code === undefined ? undefined : await loadLotTrace(reader, code, now, options);
  return found ?? unknown('jar or lot', typed.trim());
}

/** The jar with this code as typed, and its dispatches, in one batch; undefined where the sugarhouse has none. */
export async function loadJar(reader: SugarhouseReader, typed: string): Promise<JarWithDispatches | undefined> {
  const code = readJarCode(typed.replace(/^.*\/J\//i, ''));
  if (code === undefined) return undefined;
  const [jar, ofJar] = await Promise.all([findJar(reader.sql, code), movementsOfJar(reader, code)]);
  return jar?.sugarhouse === reader.sugarhouse ? { jar, ofJar } : undefined;
}

interface TraceOfJar extends TraceWithSources {
  readonly trace: Trace & Required<Pick<Trace, 'jar'>>;
}

/** The trace of a pack as that of one of its jars. */
export function traceOfJar(found: TraceWithSources, { jar, ofJar }: JarWithDispatches): TraceOfJar {
  const movements = found.accounts.get(jar.pack)?.movements ?? [];
  const own = { code: jar.code, kind: 'jar', pack: jar.pack, jar: jarWhereabouts(jar, movements, ofJar) } as const;
  // Twice: for the order of the keys as it is printed, and for their values.
  const trace = { ...own, ...found.trace, ...own, actions: found.takenOff(jar.n) };
  return { ...found, trace, ofJar };
}

/** The trace of a pack by its code, read in one batch; undefined where the sugarhouse has no such pack. */
export const tracePack = (
  reader: SugarhouseReader,
  pack: string,
  now: Date,
  options: TraceOptions = {},
): Promise<TraceWithSources | undefined> => loadLotTrace(reader, pack, now, { ...options, isPack: true });

/** The trace of a lot by its code. `isPack`: known to be one, so that all of it is read in one batch. */
async function loadLotTrace(
  reader: SugarhouseReader,
  code: string,
  now: Date,
  { isPack, ...options }: TraceOptions & { readonly isPack?: boolean },
): Promise<TraceWithSources | undefined> {
  const [upstream, own, actionsOfPack] = await Promise.all([
    lotsUpstream(reader, code),
    isPack ? packAccounts(reader, [code]) : new Map<string, PackAccount>(),
    isPack ? recordsAbout(reader, code, 'action') : undefined,
  ]);
  const lot = upstream.find((each) => each.code === code);
  if (!lot) return undefined;
  const downstreamPacks = lot.kind === 'pack' ? [lot] : ofKind(await lotsDownstream(reader, lot.code), 'pack');
  const listedPacks =
    lot.kind === 'pack' ? [lot, ...ofKind(upstream, 'pack').filter((each) => each.code !== lot.code)] : downstreamPacks;
  const nowUtc = utcOf(now);
  const packs = [...new Set([...downstreamPacks, ...listedPacks].map((pack) => pack.code))];
  const others = lot.kind === 'pack' ? packs.filter((pack) => !own.has(pack)) : [];
  const accounts = new Map([...own, ...(await packAccounts(reader, others))]);
  const jars = lot.kind === 'pack' ? accounts : await jarAccounts(reader, packs);
  const balances = new Map([...jars].map(([pack, account]) => [pack, balanceFrom(account, nowUtc)]));
  const movements = movementsOfPacks(downstreamPacks, jars);
  const codes = options.codes === false ? noCodes : await loadDispatchedCodes(reader, movements);
  const dispatches = movements.map((each) => tracedDispatch(each, codes.get(each.id) ?? [], nowUtc));
  const sap = ofKind(upstream, 'gathering', 'receipt').filter(
    (each) => each.code !== lot.code || lot.kind === 'gathering' || lot.kind === 'receipt',
  );
  const receipts = ofKind(sap, 'receipt').map((each) => each.code);
  const actions = lot.kind === 'pack' ? (actionsOfPack ?? (await recordsAbout(reader, code, 'action'))) : [];
  const takenOff = (jar?: number): JarRemoval[] => jarRemovals(code, actions, jar);
  const trace: Trace = {
    code: lot.code,
    kind: lot.kind === 'pack' || lot.kind === 'boil' ? lot.kind : 'sap',
    pack: lot.kind === 'pack' ? lot.code : null,
    boils: ofKind(isSap(lot) ? await lotsDownstream(reader, lot.code) : upstream, 'boil')
      .map((each) => each.code)
      .sort(),
    gatherings: sap.map((each) => each.code).sort(),
    receipts: [...receipts].sort(),
    packs: listedPacks.map((pack) => tracedPack(pack, balances.get(pack.code) ?? noJars)),
    jars: tracedJarCounts(sumBalances(downstreamPacks.map((pack) => balances.get(pack.code) ?? noJars))),
    syrupLitres: inLitres(
      lot.kind === 'pack' ? packSyrup(lot, accounts.get(lot.code)?.into ?? []) : await syrupBalance(reader, lot),
    ),
    dispatches,
    actions: takenOff(),
    status: lot.state,
    uncoveredJars: lot.verdict?.uncovered ?? [],
    ...(options.members ? { members: await traceMembers(reader, receipts) } : {}),
  };
  return { trace, lot, accounts, takenOff };
}

/** Where jars of the packs went, oldest first. */
function movementsOfPacks(packs: readonly Lot[], accounts: ReadonlyMap<string, JarAccount>): readonly Movement[] {
  const movements = packs.map((pack) => accounts.get(pack.code)?.movements ?? []);
  return movements.length === 1 ? (movements[0] ?? []) : movements.flat().sort(oldestFirst);
}

/** The jars that dispatches name; no query where none names any. */
async function loadDispatchedCodes(reader: SugarhouseReader, movements: readonly Movement[]) {
  const packs = new Set(movements.filter((each) => each.byCodes).map((each) => each.lot));
  return codesByMovement(reader, [...packs]);
}

const litres = (millilitres: number): number => Math.round(millilitres) / 1000;
const inLitres = ({ there, left, inJars, spent, lost }: SyrupBalance): SyrupBalance => ({
  there: litres(there),
  left: litres(left),
  inJars: litres(inJars),
  spent: litres(spent),
  lost: litres(lost),
});

const isSap = (lot: Lot): boolean => lot.kind === 'gathering' || lot.kind === 'receipt';

/**
 * Dispatches that name the jar. A dispatch by count may include it too; that is mentioned but not attributed to the
 * jar.
 */
function jarWhereabouts(jar: { code: string; n: number }, movements: readonly Movement[], ofJar: readonly Movement[]) {
  const own = movements.some((each) => each.byCodes) ? ofJar : [];
  return {
    n: jar.n,
    printed: printedJarCode(jar.code),
    dispatches: own.map((each) => each.id),
    maybeAmong: own.length > 0 ? [] : movements.filter((each) => !each.byCodes).map((each) => each.id),
  };
}

const noCodes: ReadonlyMap<string, readonly string[]> = new Map();

const tracedDispatch = (each: Movement, codes: readonly string[], nowUtc: string): TracedDispatch => ({
  id: each.id,
  lot: each.lot,
  jars: each.jars,
  sentAt: each.sentAt,
  to: each.to,
  kind: each.kind,
  contact: each.contact,
  planned: !hasMoved(each, nowUtc),
  byCodes: each.byCodes,
  codes: codes.map(printedJarCode),
});

const tracedPack = (pack: Lot, balance: JarBalance): TracedPack => ({
  lot: pack.code,
  container: pack.container ?? '',
  packedAt: pack.at,
  status: pack.state,
  jars: tracedJarCounts(balance),
});

/** A pack's balance in the format of `book trace`. */
export const tracedJarCounts = ({
  made,
  onHand,
  sentOut,
  destroyed,
  other,
  unaccounted,
}: JarBalance): TracedJarCounts => ({
  made,
  onHand,
  sentOut,
  destroyed,
  other,
  unaccounted,
});
