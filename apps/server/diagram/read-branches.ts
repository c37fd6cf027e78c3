import type { BoilBody } from '#libs/records/kinds/boil.js';
import type { DrawBody } from '#libs/records/kinds/draw.js';
import type { GatheringBody } from '#libs/records/kinds/gathering.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import {
  flowsIntoEach,
  flowsOutOfEach,
  lotsNamed,
  recordsNamedAndAbout,
} from '#libs/store/connection/batch-queries.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { type PackAccount, packAccounts, type Source } from '#libs/store/queries/pack-accounts.js';
import type { Flow, Movement } from '#libs/store/queries/trace.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** The data from which some lots' diagrams are drawn. */
export interface Branches {
  /** What flowed into a lot, largest first: for a pack, the packs poured back into it and the boils that are drawn. */
  into(lot: string): readonly Flow[];
  outOf(lot: string): readonly Flow[];
  /** Codes of the boils whose syrup is in a lot (its own where it is a boil), and of the packs poured back into it. */
  boilsOf(lot: Lot): readonly string[];
  pouredInto(lot: Lot): readonly Lot[];
  boil(code: string): BoilBody | undefined;
  pack(code: string): PackBody | undefined;
  gathering(id: string): GatheringBody | undefined;
  draws(boil: string): readonly DrawBody[];
  movements(pack: string): readonly Movement[];
  account(pack: string): PackAccount | undefined;
}

/** More boils than these are drawn as one line, or not at all. */
export const maxBoils = 4;
export const maxSapStrands = 3;

/**
 * Reads all of the lots together: six statements for one lot or a page of them, where no pack was poured back. Accounts
 * that are known already are not read again.
 */
export async function readBranches(
  reader: SugarhouseReader,
  lots: readonly Lot[],
  knownAccounts: ReadonlyMap<string, PackAccount> = new Map(),
): Promise<Branches> {
  const packs = lots.filter((lot) => lot.kind === 'pack').map((lot) => lot.code);
  const unread = packs.filter((pack) => !knownAccounts.has(pack));
  const accounts = new Map([...knownAccounts, ...(await packAccounts(reader, unread))]);
  // A pack that was poured back may itself hold other packs: read further only where there are some.
  for (let open = unreadPouredBack(accounts, packs); open.length > 0; open = unreadPouredBack(accounts, open))
    for (const account of await packAccounts(reader, open)) accounts.set(...account);
  const into = new Map<string, readonly Flow[]>([...accounts].map(([pack, account]) => [pack, account.into]));
  const sourcesOf = (lot: Lot): Source[] => sourcesAbove(lot.code, accounts);
  const boilsOf = (lot: Lot): string[] => (lot.kind === 'boil' ? [lot.code] : codesOf(sourcesOf(lot), 'boil'));
  const drawn = [...new Set(lots.flatMap((lot) => boilsOf(lot).slice(0, maxBoils)))];
  const others = lots.filter((lot) => lot.kind !== 'pack').map((lot) => lot.code);
  const [intoDrawn, outOf] = await Promise.all([flowsIntoEach(reader, drawn), flowsOutOfEach(reader, others)]);
  for (const flows of intoDrawn) into.set(...flows);
  const sap = drawn.flatMap((boil) => drawnSapIds((into.get(boil) ?? []).filter((flow) => flow.kind === 'sap')));
  const recordIds = [...new Set([...packs, ...drawn, ...sap])];
  const pouredBack = [...accounts.keys()].filter((code) => !packs.includes(code));
  const [{ record, about: draws }, poured] = await Promise.all([
    recordsNamedAndAbout(reader, ['boil', 'gathering', 'pack'], recordIds, 'draw'),
    lotsNamed(reader, pouredBack),
  ]);
  return {
    into: (lot) => into.get(lot) ?? [],
    outOf: (lot) => outOf.get(lot) ?? accounts.get(lot)?.outOf ?? [],
    boilsOf,
    pouredInto: (lot) =>
      codesOf(sourcesOf(lot), 'pack').flatMap(
        (code) => poured.get(code) ?? lots.find((each) => each.code === code) ?? [],
      ),
    boil: (code) => record('boil', code)?.body,
    pack: (code) => record('pack', code)?.body,
    gathering: (id) => record('gathering', id)?.body,
    draws: (boil) => (draws.get(boil) ?? []).map((each) => each.body),
    movements: (pack) => accounts.get(pack)?.movements ?? [],
    account: (pack) => accounts.get(pack),
  };
}

/** Packs that were poured back into these, and whose account isn't read yet. */
function unreadPouredBack(accounts: ReadonlyMap<string, PackAccount>, packs: readonly string[]): string[] {
  const from = packs.flatMap((pack) => accounts.get(pack)?.into ?? []).filter((each) => each.fromKind === 'pack');
  return [...new Set(from.map((each) => each.from))].filter((code) => !accounts.has(code));
}

/** The sources of a pack's syrup and, through packs poured back, their sources; each once, by code. */
function sourcesAbove(pack: string, accounts: ReadonlyMap<string, PackAccount>): Source[] {
  const found = new Map<string, Source>();
  const open = [pack];
  for (let next = open.shift(); next !== undefined; next = open.shift())
    for (const source of accounts.get(next)?.into ?? []) {
      if (found.has(source.from) || source.from === pack) continue;
      found.set(source.from, source);
      if (source.fromKind === 'pack') open.push(source.from);
    }
  return [...found.values()].sort((a, b) => (a.from < b.from ? -1 : 1));
}

const drawnSapIds = (flows: readonly Flow[]): string[] =>
  flows.length > maxSapStrands ? [] : flows.map((flow) => flow.from);
const codesOf = (sources: readonly Source[], kind: Lot['kind']): string[] =>
  sources.filter((each) => each.fromKind === kind).map((each) => each.from);
