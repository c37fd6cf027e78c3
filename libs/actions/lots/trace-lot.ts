import { balanceFrom, type JarBalance, noJars, sumBalances } from '#libs/store/queries/jar-balance.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { findJar, type Lot } from '#libs/store/queries/lots.js';
import { type JarAccount, jarAccounts, type PackAccount, packAccounts } from '#libs/store/queries/pack-accounts.js';
import { packSyrup, type SyrupBalance, syrupBalance } from '#libs/store/queries/syrup-balance.js';
import {
  codesByMovement,
  hasMoved,
  jarsOfSome,
  lotsDownstream,
  lotsUpstream,
  type Movement,
  movementsOfJar,
  oldestFirst,
  ofKind,
  packsAtOnce,
} from '#libs/store/queries/trace.js';
import type { JarSpan } from '#libs/syrup/jars/held-jars.js';
import { printedJarCode, readJarCode } from '#libs/syrup/codes/jar-codes.js';
import { jarsTakenOff, type TakenOffBy } from './jars-taken-off.js';
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
  readonly jars: Jars;
  /** Where its sap or syrup is, in litres: there = left + inJars + lost. */
  readonly syrupLitres: SyrupBalance;
  readonly dispatches: readonly TracedDispatch[];
  /** Corrective actions that destroyed jars of the pack or poured them back; for a jar those that name it. */
  readonly actions: readonly TakenOffBy[];
  readonly status: Lot['state'];
  /**
   * For a finished pack or its jar: the jars that no fill reading covers. Empty where all are covered, and for other
   * lots.
   */
  readonly uncoveredJars: readonly JarSpan[];
  /** Lots of other sugarhouses that went in, by receipts that name them; only for people who may see them. */
  readonly members?: readonly TracedMember[];
}
export type Jars = Pick<JarBalance, 'made' | 'onHand' | 'sentOut' | 'destroyed' | 'other' | 'unaccounted'>;
export interface TracedPack {
  readonly lot: string;
  readonly container: string;
  readonly packedAt: string;
  readonly status: Lot['state'];
  readonly jars: Jars;
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
  const found = await traceRead(reader, typed, now, options);
  return 'problem' in found ? found : found.trace;
}

interface TraceOptions {
  readonly members?: boolean;
  readonly codes?: boolean;
}

/** A trace with the data it was made from, for a page that draws the lot's flow. */
export interface TraceRead {
  readonly trace: Trace;
  readonly lot: Lot;
  /** For a pack and those poured back into it only. */
  readonly accounts: ReadonlyMap<string, PackAccount>;
  /** For a jar: the dispatches that name it, oldest first. */
  readonly ofJar?: readonly Movement[];
}

/** Traces a jar or a lot, by its code as typed, to its sap and its buyers; a refusal where nothing has that code. */
export async function traceRead(
  reader: SugarhouseReader,
  typed: string,
  now: Date,
  options: TraceOptions = {},
): Promise<TraceRead | Refusal> {
  const jar = await jarTyped(reader, typed);
  const code = jar?.pack ?? (await lookUpLot(reader, typed))?.code;
  // Started together, so that they go to the database in one batch.
  const [upstream, own, takenOff, ofJar] = await Promise.all([
    code === undefined ? [] : lotsUpstream(reader, code),
    jar ? packAccounts(reader, [jar.pack]) : new Map<string, PackAccount>(),
    jar ? jarsTakenOff(reader, jar.pack, jar.n) : undefined,
    jar ? movementsOfJar(reader, jar.code) : [],
  ]);
  const lot = upstream.find((each) => each.code === code);
  if (!lot) return unknown('jar or lot', typed.trim());
  const below = lot.kind === 'pack' ? [lot] : ofKind(await lotsDownstream(reader, lot.code), 'pack');
  const shown =
    lot.kind === 'pack' ? [lot, ...ofKind(upstream, 'pack').filter((each) => each.code !== lot.code)] : below;
  const nowUtc = utcOf(now);
  const packs = [...new Set([...below, ...shown].map((pack) => pack.code))];
  const others = lot.kind === 'pack' ? packs.filter((pack) => !own.has(pack)) : [];
  const accounts = new Map([...own, ...(await packAccounts(reader, others))]);
  const jars = lot.kind === 'pack' ? accounts : await jarAccounts(reader, packs);
  const balances = new Map([...jars].map(([pack, account]) => [pack, balanceFrom(account, nowUtc)]));
  const moved = movementsIn(below, jars);
  const codes = options.codes === false ? noCodes : await codesNamed(reader, moved);
  const dispatches = moved.map((each) => traced(each, codes.get(each.id) ?? [], nowUtc));
  const sap = ofKind(upstream, 'gathering', 'receipt').filter(
    (each) => each.code !== lot.code || lot.kind === 'gathering' || lot.kind === 'receipt',
  );
  const receipts = ofKind(sap, 'receipt').map((each) => each.code);
  const trace: Trace = {
    code: jar?.code ?? lot.code,
    kind: jar ? 'jar' : lot.kind === 'pack' || lot.kind === 'boil' ? lot.kind : 'sap',
    pack: lot.kind === 'pack' ? lot.code : null,
    ...(jar ? { jar: jarWhereabouts(jar, moved, ofJar) } : {}),
    boils: ofKind(isSap(lot) ? await lotsDownstream(reader, lot.code) : upstream, 'boil')
      .map((each) => each.code)
      .sort(),
    gatherings: sap.map((each) => each.code).sort(),
    receipts: [...receipts].sort(),
    packs: shown.map((pack) => tracedPack(pack, balances.get(pack.code) ?? noJars)),
    jars: jarsOf(sumBalances(below.map((pack) => balances.get(pack.code) ?? noJars))),
    syrupLitres: inLitres(
      lot.kind === 'pack' ? packSyrup(lot, accounts.get(lot.code)?.into ?? []) : await syrupBalance(reader, lot),
    ),
    dispatches,
    actions: takenOff ?? (lot.kind === 'pack' ? await jarsTakenOff(reader, lot.code) : []),
    status: lot.state,
    uncoveredJars: lot.verdict?.uncovered ?? [],
    ...(options.members ? { members: await traceMembers(reader, receipts) } : {}),
  };
  return { trace, lot, accounts, ...(jar ? { ofJar } : {}) };
}

export interface TracedJar {
  readonly code: string;
  readonly pack: string;
  readonly n: number;
  /** Dispatches that name this jar. */
  readonly dispatches: readonly string[];
}

/**
 * Every jar downstream of a lot, pack by pack, with the dispatches that name it; streamed, for there may be a million.
 */
export async function* jarsDownstream(reader: SugarhouseReader, packs: readonly string[]): AsyncGenerator<TracedJar> {
  for (let first = 0; first < packs.length; first += 500) {
    const some = packs.slice(first, first + 500);
    const byJar = new Map<string, string[]>();
    for (const [movement, codes] of await codesByMovement(reader, some))
      for (const code of codes) byJar.set(code, [...(byJar.get(code) ?? []), movement]);
    // Yields arrays, since yielding single jars through a second generator took as long as reading them.
    for (let n = 0; n < some.length; n += packsAtOnce)
      for (const jar of await jarsOfSome(reader, some.slice(n, n + packsAtOnce)))
        yield { code: printedJarCode(jar.code), pack: jar.pack, n: jar.n, dispatches: byJar.get(jar.code) ?? [] };
  }
}

/** Where jars of the packs went, oldest first. */
function movementsIn(packs: readonly Lot[], accounts: ReadonlyMap<string, JarAccount>): readonly Movement[] {
  const moved = packs.map((pack) => accounts.get(pack.code)?.movements ?? []);
  return moved.length === 1 ? (moved[0] ?? []) : moved.flat().sort(oldestFirst);
}

/** The jars that dispatches name; no query where none names any. */
async function codesNamed(reader: SugarhouseReader, moved: readonly Movement[]) {
  const packs = new Set(moved.filter((each) => each.byCodes).map((each) => each.lot));
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

async function jarTyped({ sql, sugarhouse }: SugarhouseReader, typed: string) {
  const code = readJarCode(typed.replace(/^.*\/J\//i, ''));
  const jar = code === undefined ? undefined : await findJar(sql, code);
  return jar?.sugarhouse === sugarhouse ? jar : undefined;
}

/**
 * Dispatches that name the jar. A dispatch by count may include it too; that is mentioned but not attributed to the
 * jar.
 */
function jarWhereabouts(jar: { code: string; n: number }, moved: readonly Movement[], ofJar: readonly Movement[]) {
  const own = moved.some((each) => each.byCodes) ? ofJar : [];
  return {
    n: jar.n,
    printed: printedJarCode(jar.code),
    dispatches: own.map((each) => each.id),
    maybeAmong: own.length > 0 ? [] : moved.filter((each) => !each.byCodes).map((each) => each.id),
  };
}

const noCodes: ReadonlyMap<string, readonly string[]> = new Map();

const traced = (each: Movement, codes: readonly string[], nowUtc: string): TracedDispatch => ({
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
  jars: jarsOf(balance),
});

/** A pack's balance in the format of `book trace`. */
export const jarsOf = ({ made, onHand, sentOut, destroyed, other, unaccounted }: JarBalance): Jars => ({
  made,
  onHand,
  sentOut,
  destroyed,
  other,
  unaccounted,
});
