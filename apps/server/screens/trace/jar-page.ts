import { unknown, type Refusal } from '#libs/actions/record/problem.js';
import { type JarWithDispatches, loadJar, traceOfJar, type TraceWithSources } from '#libs/actions/lots/trace-lot.js';
import { formatMethod } from '#libs/actions/jars/jar-removals.js';
import { jarState } from '#libs/actions/jars/jar-states.js';
import { formatUncoveredJar } from '#libs/syrup/jars/uncovered-jars.js';
import { printedJarCode, readJarCode } from '#libs/syrup/codes/jar-codes.js';
import { cachedLotDrawing } from '../../diagram/cached-drawings.js';
import { diagramFrom, diagramLengthPt } from '../../diagram/lot-diagram.js';
import { readBranches } from '../../diagram/read-branches.js';
import type { Posted } from '../../forms/field-view.js';
import { judgingFor } from '../../http/judging.js';
import { lotCacheSlot, type LotValue } from '../../http/lot-cache.js';
import { bytesOfTrace, isTracedInOneBook, packTraceFor, traceChangesUntil } from '../../http/pack-trace.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { renderPart } from '../../http/render.js';
import { type CachedPage, cachedPage, type HtmlPage, htmlPage } from '../../http/responses.js';
import { dayText } from '../../text/times.js';
import { dispatchPart, pageLists, readingsIn, takenOffRows, traceProps } from './trace-pages.js';
import type { Rendered } from '#pages/parts/drawing.js';
import { Trace } from '#pages/parts/trace.js';
import { JarTracePage } from '#pages/public-jar-page/jar.js';

interface CachedJarPage extends CachedPage, LotValue {}

/**
 * A jar for people who are signed in: its lot, its boils, its sap, and where it may be. Its body is cached for each role
 * until an entry that may concern its pack is written.
 */
export async function jarPage(principal: Principal, typed: string, query: Posted): Promise<HtmlPage | Refusal> {
  const code = Object.keys(query).length === 0 ? readJarCode(typed) : undefined;
  const slot =
    code === undefined
      ? undefined
      : await lotCacheSlot<CachedJarPage>(principal, `page of jar ${code} for ${principal.role} ${principal.readsAll}`);
  if (slot?.value) return cachedPage(slot.value);
  const read = await loadJar(readerOf(principal), typed);
  const pack = read && (await packOfJar(principal, read.jar, query));
  if (!read || !pack) return unknown('jar', typed);
  const props = await jarProps(principal, pack, read, query);
  const cachePage = isTracedInOneBook(pack.found) ? slot?.put : undefined;
  return htmlPage(
    JarTracePage,
    props,
    200,
    cachePage &&
      ((page) =>
        cachePage({ ...page, lot: props.pack, changesUntil: pack.changesUntil, bytes: page.body.bytes.length })),
  );
}

async function jarProps(principal: Principal, pack: PackOfJars, read: JarWithDispatches, query: Posted) {
  const { trace, lot, ofJar } = traceOfJar(pack.found, read);
  const { jar } = trace;
  const named = trace.dispatches.filter((each) => jar.dispatches.includes(each.id));
  const possible = new Set(jar.maybeAmong);
  const maybe = trace.dispatches.filter((each) => possible.has(each.id));
  const last = named.at(-1);
  const takenOff = trace.actions.at(-1);
  const at = pageLists(`/jars/${jar.printed}`, query);
  const state = await jarState(principal.book, await judgingFor(principal), lot, {
    n: jar.n,
    code: trace.code,
    movements: ofJar,
  });
  return {
    title: `Jar ${jar.printed}`,
    here: 'find',
    printed: jar.printed,
    n: jar.n,
    code: trace.code,
    status: trace.status,
    pack: lot.code,
    drawing: pack.drawing,
    trace: pack.trace,
    sentence: last
      ? `${last.kind === 'returned' ? 'Returned from' : 'Went to'} ${last.to}.`
      : takenOff
        ? `By the records it was ${formatMethod(takenOff.way)} on ${dayText(takenOff.at)}.`
        : state === 'unsealed'
          ? 'Not recorded: where it is now.'
          : maybe.length > 0
            ? 'On the shelf, or among jars that went out by count.'
            : 'On the shelf, by the records.',
    jarState: state,
    possibleDispatches: await dispatchPart(principal, maybe, at, 'maybe'),
    takenOff: await takenOffRows(principal, trace),
    uncovered: formatUncoveredJar(jar.n, trace.uncoveredJars, readingsIn(lot)),
    dispatches: await dispatchPart(principal, named, at, 'went'),
  };
}

/** What the pages of a pack's jars have in common. */
interface PackOfJars extends LotValue {
  readonly found: TraceWithSources;
  readonly drawing: Rendered;
  readonly trace: Rendered;
}

async function packOfJar(
  principal: Principal,
  { pack, code }: JarWithDispatches['jar'],
  query: Posted,
): Promise<PackOfJars | undefined> {
  const isCacheable = Object.keys(query).length === 0;
  const slot = isCacheable
    ? await lotCacheSlot<PackOfJars>(principal, `jars of ${pack} ${principal.readsAll}`)
    : undefined;
  if (slot?.value) return slot.value;
  const found = await packTraceFor(principal, pack);
  if (!found) return undefined;
  const { lot, accounts } = found;
  const branches = await readBranches(readerOf(principal), [lot], accounts);
  const drawing = cachedLotDrawing(diagramFrom(branches, lot, principal.writeContext.now), diagramLengthPt);
  // The links of a part that other jars' pages show too are relative to the page.
  const at = pageLists(isCacheable ? '' : `/jars/${printedJarCode(code)}`, query);
  const trace = renderPart(Trace(await traceProps(principal, found, at)));
  const made = {
    lot: pack,
    changesUntil: traceChangesUntil(found),
    bytes: trace.bytes.length + drawing.bytes.length + bytesOfTrace(found),
    found,
    drawing,
    trace,
  };
  if (isTracedInOneBook(found)) slot?.put(made);
  return made;
}
