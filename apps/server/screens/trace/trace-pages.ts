import { momentIn } from '#libs/actions/record/times.js';
import { loadSyrupMade, loadSyrupShares } from '#libs/actions/facts/syrup-shares.js';
import {
  type Trace as LotTrace,
  type TraceWithSources,
  traceWithSources,
  type TracedDispatch,
} from '#libs/actions/lots/trace-lot.js';
import { formatMethod } from '#libs/actions/jars/jar-removals.js';
import { jarsNamedByEach } from '#libs/store/queries/jars-downstream.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { diagramText } from '#libs/reports/diagram/description.js';
import { cachedLotDrawing } from '../../diagram/cached-drawings.js';
import { formatUncovered } from '#libs/syrup/jars/uncovered-jars.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { formContext } from '../../forms/form-view.js';
import { diagramFrom, diagramLengthPt } from '../../diagram/lot-diagram.js';
import { readBranches } from '../../diagram/read-branches.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { many } from '../../text/amounts.js';
import { volumeText } from '#libs/format/format-house-volume.js';
import { jarRows } from '../../text/jar-rows.js';
import { pageOfRows, type ListOptions } from '../../text/paged-rows.js';
import { momentText } from '../../text/times.js';
import { packsDownstream, jarListPart } from './jar-rows.js';

/** A lot in both directions: what it came from, what became of it, and where every jar is. */
export async function lotTracePage(principal: Principal, code: string, query: Posted = {}) {
  const found = await readTrace(principal, code);
  if ('problem' in found) return found;
  const { trace, lot, accounts } = found;
  const diagram = diagramFrom(
    await readBranches(readerOf(principal), [lot], accounts),
    lot,
    principal.writeContext.now,
  );
  const at = pageLists(`/lots/${encodeURIComponent(trace.code)}/trace`, query);
  return {
    title: `Trace of ${trace.code}`,
    here: 'find',
    drawing: cachedLotDrawing(diagram, diagramLengthPt),
    drawingText: diagramText(diagram),
    code: trace.code,
    status: trace.status,
    uncovered: formatUncovered(trace.uncoveredJars, readingsIn(lot)),
    ...(await traceProps(principal, found, at)),
    takenOff: await takenOffRows(principal, trace),
    dispatches: await dispatchPart(
      principal,
      trace.dispatches,
      at,
      'went',
      `/lots/${encodeURIComponent(trace.code)}/dispatches.csv`,
    ),
    jarRows: await jarListPart(principal, packsDownstream(trace), trace.dispatches, {
      ...at.of('every', 'jar'),
      from: at.begins('every'),
      whole: `/lots/${encodeURIComponent(trace.code)}/jars.csv`,
    }),
  };
}

const readTrace = (principal: Principal, code: string) =>
  traceWithSources(readerOf(principal), code, principal.writeContext.now, {
    members: principal.readsAll,
    codes: false,
  });

/** The page's lists, each with its own query parameter for where it begins. */
interface Lists {
  begins(param: string): string;
  of(param: string, noun: string, plural?: string): ListOptions;
}

/** The lists of a page at this address, as its query asks for them. */
export function pageLists(address: string, query: Posted): Lists {
  const beside = ['shares', 'boils', 'sap', 'packs', 'went', 'maybe', 'every']
    .map((param): [string, string] => [param, firstText(query[param])])
    .filter(([, begins]) => begins !== '');
  return {
    begins: (param) => firstText(query[param]),
    of: (param, noun, plural = `${noun}s`) => ({ address, param, noun, plural, beside }),
  };
}

/** How many jars a lot has, and whether any was read as it was capped. */
export const readingsIn = ({ jars, verdict }: Lot) => ({
  made: jars,
  wereRead: (verdict?.lowestFill ?? null) !== null,
});

/** What a lot came from and what became of it. */
export async function traceProps(principal: Principal, found: TraceWithSources, at: Lists) {
  const { trace, lot } = found;
  const from = await syrupSources(principal, found);
  const packs = pageOfRows(trace.packs, at.begins('packs'), at.of('packs', 'pack'));
  return {
    shares: pageOfRows(from.shares, at.begins('shares'), at.of('shares', 'lot')),
    boils: pageOfRows(from.boils, at.begins('boils'), at.of('boils', 'boil')),
    gatherings: pageOfRows(trace.gatherings, at.begins('sap'), at.of('sap', 'gathering')),
    members: trace.members ?? [],
    packs: { ...packs, rows: packs.rows.map((each) => ({ ...each, jars: many(each.jars.made, 'jar') })) },
    jars: jarRows(trace.jars),
    syrupNoun: trace.kind === 'sap' ? 'Sap' : 'Syrup',
    syrup: await syrupRows(principal, trace, lot),
  };
}

/**
 * How much of it each boil gave, the largest share first, and the boils that left only the contents of their pans in
 * it.
 */
async function syrupSources(principal: Principal, { trace, lot, accounts }: TraceWithSources) {
  const shares = lot.kind === 'pack' ? await loadSyrupShares(readerOf(principal), lot, accounts) : [];
  const { measures } = await formContext(principal);
  const contributors = new Set(shares.map((share) => share.lot));
  return {
    shares: shares.map((share) => ({
      lot: share.lot,
      part:
        share.part >= 0.995 || share.part < 0.005 ? boundedPercent(share.part) : `${Math.round(share.part * 100)} %`,
      volume: volumeText(share.millilitres, measures.volumes, measures.canada),
    })),
    boils: trace.boils.filter((boil) => !contributors.has(boil)),
  };
}
const boundedPercent = (part: number): string => (part === 1 ? '100 %' : part > 0.5 ? 'over 99 %' : 'under 1 %');

/** Where its sap or syrup is; the difference between drawn and filled volume is shrinkage, filters and kettle. */
async function syrupRows(principal: Principal, { syrupLitres, kind }: LotTrace, lot: Lot): Promise<[string, string][]> {
  const { measures } = await formContext(principal);
  const format = (litres: number): string =>
    `${litres < 0 ? '−' : ''}${volumeText(Math.abs(litres) * 1000, measures.volumes, measures.canada)}`;
  const { there, left, inJars, spent, lost } = syrupLitres;
  // Bought syrup may be packed as it came; sap becomes syrup only in a boil.
  const madeOf = kind === 'sap' ? (await loadSyrupMade(readerOf(principal), lot)) / 1000 : 0;
  const sap = kind === 'sap';
  return [
    [kind === 'pack' || kind === 'jar' ? 'drawn for it' : 'in all', format(there)],
    ...(left === 0 ? [] : ([[left < 0 ? 'drawn more than there was' : 'left', format(left)]] as [string, string][])),
    ...(sap && inJars === 0 ? [] : ([['in jars', format(inJars)]] as [string, string][])),
    ...(madeOf === 0 ? [] : ([['became syrup', format(madeOf)]] as [string, string][])),
    ...(spent === 0 ? [] : ([['used at home, spilt, discarded', format(spent)]] as [string, string][])),
    [
      sap
        ? 'boiled away'
        : lost < 0
          ? 'more in jars than was drawn'
          : 'not in jars: shrink, filters, the kettle, or left over',
      format(lost - madeOf),
    ],
  ];
}

/** Corrective actions that took jars off the shelf, each with its record. */
export async function takenOffRows(principal: Principal, { actions }: LotTrace) {
  const { parseOptions: options } = await formContext(principal);
  const now = momentIn(options.zone, principal.writeContext.now);
  return actions.map((each) => ({
    ...each,
    method: formatMethod(each.way),
    jars: many(each.count, 'jar'),
    which: each.jars,
    when: momentText(each.at, now),
    href: `/records/action/${encodeURIComponent(each.id)}`,
  }));
}

/** Where jars went; of the jars that a dispatch lists, the first two dozen. */
export async function dispatchPart(
  principal: Principal,
  dispatches: readonly TracedDispatch[],
  at: Lists,
  param: string,
  whole = '',
) {
  const { parseOptions: options } = await formContext(principal);
  const now = momentIn(options.zone, principal.writeContext.now);
  const part = pageOfRows(dispatches, at.begins(param), { ...at.of(param, 'dispatch', 'dispatches'), whole });
  // A jar's trace has read the codes already, a lot's has not: there may be a million.
  const unread = part.rows.filter((each) => each.byCodes && each.codes.length === 0).map((each) => each.id);
  const named = unread.length > 0 ? await jarsNamedByEach(readerOf(principal), unread, maxCodes) : undefined;
  const rows = part.rows.map((each) => {
    const { codes, count } = named?.get(each.id) ?? { codes: [], count: each.codes.length };
    const printed = each.codes.length > 0 ? each.codes.slice(0, maxCodes) : codes.map(printedJarCode);
    return {
      ...each,
      jars: many(each.jars, 'jar'),
      when: momentText(each.sentAt, now),
      codes: printed,
      moreCodes: count - printed.length,
    };
  });
  return { ...part, rows };
}
const maxCodes = 24;
