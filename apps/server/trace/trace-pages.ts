import { unknown, type Refusal } from '#libs/actions/problem.js';
import { momentIn } from '#libs/actions/times.js';
import { traceLot, type Trace, type TracedDispatch } from '#libs/actions/trace-lot.js';
import { findLot } from '#libs/records/lots.js';
import { taperSvg } from '#libs/reports/taper.js';
import { formGround } from '../forms/form-view.js';
import { lotTaper, taperLengthPt } from '../lots/lot-taper.js';
import type { Visitor } from '../web/visitor.js';
import { many } from '../words/amounts.js';
import { momentWords } from '../words/times.js';

/** A lot from end to end: what it came from, what became of it, and where every jar is. */
export async function lotTracePage(who: Visitor, code: string) {
  const trace = await traceLot(who.book.read, who.desk.sugarhouse, code, who.desk.now, { members: who.readsAll });
  if ('problem' in trace) return trace;
  return { title: `Trace of ${trace.code}`, here: 'find', ...(await shownTrace(who, trace)) };
}

/** A jar for the makers: its lot, its boils, its sap, and where it may be. */
export async function jarPage(who: Visitor, code: string) {
  const trace = await traceLot(who.book.read, who.desk.sugarhouse, code, who.desk.now, { members: who.readsAll });
  if ('problem' in trace) return trace;
  const pack = trace.pack;
  if (trace.kind !== 'jar' || !trace.jar || !pack) return unknown('jar', code) satisfies Refusal;
  const lot = await findLot(who.book.read, who.desk.sugarhouse, pack);
  const taper = lot && (await lotTaper(who, lot));
  const named = trace.dispatches.filter((each) => trace.jar?.dispatches.includes(each.id));
  const maybe = trace.dispatches.filter((each) => trace.jar?.maybeAmong.includes(each.id));
  const last = named.at(-1);
  return {
    title: `Jar ${trace.jar.printed}`,
    here: 'find',
    printed: trace.jar.printed,
    n: trace.jar.n,
    pack,
    across: taper && taperSvg(taper, 'across', taperLengthPt),
    down: taper && taperSvg(taper, 'down'),
    sentence: last
      ? `${last.kind === 'returned' ? 'Came home from' : 'Went to'} ${last.to}.`
      : maybe.length > 0
        ? 'On the shelf, or among jars that went out by count.'
        : 'On the shelf, by the book.',
    maybe: await shownDispatches(who, maybe),
    ...(await shownTrace(who, trace)),
    dispatches: await shownDispatches(who, named),
  };
}

async function shownTrace(who: Visitor, trace: Trace) {
  return {
    code: trace.code,
    status: trace.status,
    boils: trace.boils,
    gatherings: trace.gatherings,
    members: trace.members ?? [],
    packs: trace.packs.map((each) => ({ ...each, jars: many(each.jars.made, 'jar') })),
    jars: Object.entries({
      made: trace.jars.made,
      'on hand': trace.jars.onHand,
      'sent out': trace.jars.sentOut,
      'kept, samples, broken': trace.jars.other,
      destroyed: trace.jars.destroyed,
      unaccounted: trace.jars.unaccounted ?? 'not counted yet',
    }),
    dispatches: await shownDispatches(who, trace.dispatches),
  };
}

async function shownDispatches(who: Visitor, dispatches: readonly TracedDispatch[]) {
  const { manner } = await formGround(who);
  const now = momentIn(manner.zone, who.desk.now);
  return dispatches.map((each) => ({
    ...each,
    jars: many(each.jars, 'jar'),
    when: momentWords(each.sentAt, now),
    codes: each.codes.slice(0, 24),
  }));
}
