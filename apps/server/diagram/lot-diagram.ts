import type { Lot } from '#libs/store/queries/lots.js';
import type { Flow } from '#libs/store/queries/trace.js';
import { classSwatch, swatch } from '#libs/reports/diagram/swatch.js';
import { cachedDrawing } from './cached-drawings.js';
import type { Stage, LotDiagram, DiagramDot, DiagramLink, DiagramNode } from '#libs/reports/diagram/shape.js';
import { shown, shownDensity } from '#libs/syrup/quantities/decimal-text.js';
import type { Principal } from '../http/principal.js';
import { many } from '../text/amounts.js';
import { clock } from '../text/times.js';
import { mostBoils, mostSapStrands, readBranches, type Branches } from './read-branches.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** The diagram of a lot up to now, with the steps still to come. */
export function diagramFrom(strands: Branches, lot: Lot, now: Date): LotDiagram {
  const way = new Way(lot.code);
  const direct = new Set(strands.into(lot.code).map((flow) => flow.from));
  for (const boil of strands.boilsOf(lot).slice(0, mostBoils))
    addBoil(strands, way, boil, boil === lot.code || direct.has(boil));
  for (const pack of strands.pouredInto(lot)) addPouredBack(strands, way, pack);
  if (lot.kind === 'pack') addPack(strands, way, lot, now);
  if (lot.kind === 'boil') addAhead(strands, way, lot);
  if (lot.kind === 'gathering' || lot.kind === 'receipt') addSap(strands, way, lot);
  return way.drawn();
}

/** Narrower than the page, so that its text comes out as large as the page's small text. */
export const diagramLengthPt = 680;

/** Small lot diagrams for the first rows of a list; one for every row would be most of the page's size. */
export async function smallDiagrams(
  { book, writeContext: context }: Principal,
  lots: readonly Lot[],
): Promise<Map<string, string>> {
  const diagrams = new Map<string, string>();
  const some = lots.slice(0, mostSmall);
  const strands = await readBranches(sugarhouseReader(book.read, context.sugarhouse), some);
  for (const lot of some) {
    const svg = cachedDrawing(diagramFrom(strands, lot, context.now), 'small');
    // The row has the same information as text.
    diagrams.set(
      lot.code,
      svg
        .replace('role="img"', 'aria-hidden="true"')
        .replace(/ aria-labelledby="[^"]*"|<title.*?<\/title>|<desc.*?<\/desc>/gs, ''),
    );
  }
  return diagrams;
}

const mostSmall = 24;

/** Further places are named only in the page's text. */
const mostPlaces = 4;

class Way {
  private readonly nodes: DiagramNode[] = [];
  private readonly links: DiagramLink[] = [];
  syrupColour: string | null = null;
  constructor(private readonly code: string) {}

  node(stage: Stage, id: string, view: Partial<DiagramNode> = {}): string {
    this.nodes.push({ id, stage, name: '', amount: '', millilitres: null, happened: true, dots: [], ...view });
    return id;
  }
  link(from: string, to: string, millilitres: number | null, happened = true): void {
    this.links.push({ from, to, millilitres, happened });
  }
  has(id: string): boolean {
    return this.nodes.some((node) => node.id === id);
  }
  drawn(): LotDiagram {
    return { code: this.code, nodes: this.nodes, links: this.links, syrupColour: this.syrupColour };
  }
}

/** Boils that left only the contents of their pans are drawn as part of the boil that these went into. */
function addBoil(strands: Branches, way: Way, boil: string, rests: boolean): void {
  const body = strands.boil(boil);
  if (!body) return;
  const syrup = body.syrupVolume;
  way.node('boiled', boil, {
    name: boil,
    amount: syrup?.typed ?? '',
    millilitres: syrup?.millilitres ?? null,
    dots: [
      ...(body.waterBoilsAt ? [dot('water boils', shown(body.waterBoilsAt))] : []),
      ...(body.finishTemp ? [dot('drawn off', shown(body.finishTemp))] : []),
    ],
  });
  addInto(strands, way, boil);
  const size = syrup?.millilitres ?? null;
  const draws = strands.draws(boil);
  const medium = body.filterMedium || (draws.find((each) => each.filterMedium)?.filterMedium ?? '');
  const filterTemp = body.filterTemp ?? draws.find((each) => each.filterTemp)?.filterTemp;
  const filtered = Boolean(filterTemp) || medium !== '';
  way.node('filtered', `${boil} filtered`, {
    amount: medium,
    millilitres: size,
    happened: filtered,
    dots: filterTemp ? [dot('filtered', shown(filterTemp))] : [],
  });
  way.link(boil, `${boil} filtered`, size, filtered);
  if (!rests) return;
  way.node('resting', `${boil} rested`, {
    amount: body.restedFrom ? `from ${clock(body.restedFrom)}` : '',
    millilitres: size,
    happened: Boolean(body.restedFrom),
  });
  way.link(`${boil} filtered`, `${boil} rested`, size, Boolean(body.restedFrom));
}

function addInto(strands: Branches, way: Way, boil: string): void {
  const flows = strands.into(boil);
  const sap = flows.filter((flow) => flow.kind === 'sap');
  if (sap.length > mostSapStrands) {
    const total = sap.reduce((sum, flow) => sum + flow.millilitres, 0);
    const id = way.node('gathered', `${boil}<sap`, { name: many(sap.length, 'gathering'), millilitres: total });
    way.link(id, boil, total);
  } else
    for (const flow of sap) {
      const body = strands.gathering(flow.from);
      const id = way.node('gathered', `${boil}<${flow.from}`, {
        name: flow.from,
        amount: flow.typed,
        millilitres: flow.millilitres,
        dots: body?.sugar ? [dot('sap', shownDensity(body.sugar))] : [],
      });
      way.link(id, boil, flow.millilitres);
    }
  for (const flow of flows.filter((each) => each.kind === 'carried').slice(0, 1)) {
    const view = { name: `pans of ${flow.from}`, amount: flow.typed, millilitres: flow.millilitres };
    way.link(way.node('gathered', `${boil}<${flow.from}`, view), boil, flow.millilitres);
  }
  if (flows.length === 0) {
    const id = way.node('gathered', `${boil}<sap`, { name: 'sap' });
    way.link(id, boil, null);
  }
}

function addPack(strands: Branches, way: Way, pack: Lot, now: Date): void {
  const body = strands.pack(pack.code);
  if (!body) return;
  const verdict = pack.verdict;
  const low = verdict?.lowestFill;
  const stops = (rule: string): boolean =>
    verdict?.findings.some((each) => each.stop && each.rule.startsWith(rule)) ?? false;
  const density = body.densityReading;
  way.node('packed', pack.code, {
    name: pack.code,
    amount: pack.jars === undefined ? '' : many(pack.jars, 'jar'),
    millilitres: pack.millilitres ?? null,
    dots: [
      ...(density ? [{ ...dot('density', shownDensity(density)), stops: stops('density') }] : []),
      { ...dot('lowest fill', low ? shown(low) : 'not read'), stops: stops('fill') },
    ],
  });
  const colour = verdict?.colour;
  way.syrupColour = body.transmittance ? swatch(body.transmittance.percent) : colour ? classSwatch(colour) : null;
  for (const flow of strands.into(pack.code)) {
    const from = sourceNode(way, flow);
    way.link(from, pack.code, flow.millilitres);
  }
  addSentOut(strands, way, pack, now);
}

/** A pack that was poured back is drawn at the stage of waiting syrup: between the filter and the jars it is in now. */
function addPouredBack(strands: Branches, way: Way, pack: Lot): void {
  const amount = pack.jars === undefined ? '' : many(pack.jars, 'jar');
  way.node('resting', pack.code, { name: pack.code, amount, millilitres: pack.millilitres ?? null });
  for (const flow of strands.into(pack.code)) {
    const filtered = `${flow.from} filtered`;
    if (way.has(filtered)) way.link(filtered, pack.code, flow.millilitres);
  }
}

/** A boil's syrup comes from its rest; a pack that was poured back and bought syrup have a line each. */
function sourceNode(way: Way, flow: Flow): string {
  const rested = `${flow.from} rested`;
  if (way.has(rested)) return rested;
  if (way.has(flow.from)) return flow.from;
  return way.node('resting', flow.from, { name: flow.from, amount: flow.typed, millilitres: flow.millilitres });
}

function addSentOut(strands: Branches, way: Way, pack: Lot, now: Date): void {
  const places = new Map<string, number>();
  for (const { kind, sentAt, to, jars } of strands.movements(pack.code))
    if (kind !== 'returned' && Date.parse(sentAt) <= now.getTime()) places.set(to, (places.get(to) ?? 0) + jars);
  const most = [...places].sort((a, b) => b[1] - a[1]);
  const each = pack.jarMillilitres ?? 0;
  for (const [to, jars] of most.slice(0, mostPlaces)) {
    const id = way.node('sent out', `out ${to}`, { name: to, amount: many(jars, 'jar'), millilitres: jars * each });
    way.link(pack.code, id, jars * each);
  }
  if (most.length > 0) return;
  way.link(pack.code, way.node('sent out', 'out', { happened: false }), null, false);
}

function addAhead(strands: Branches, way: Way, boil: Lot): void {
  const packs = strands.outOf(boil.code).filter((flow) => flow.kind === 'syrup');
  for (const flow of packs.slice(0, mostPlaces)) {
    const id = way.node('packed', flow.into, { name: flow.into, amount: flow.typed, millilitres: flow.millilitres });
    way.link(`${boil.code} rested`, id, flow.millilitres);
    way.link(id, way.node('sent out', `${flow.into} out`, { happened: false }), null, false);
  }
  if (packs.length > 0) return;
  way.link(`${boil.code} rested`, way.node('packed', 'packed', { happened: false }), null, false);
  way.link('packed', way.node('sent out', 'out', { happened: false }), null, false);
}

function addSap(strands: Branches, way: Way, lot: Lot): void {
  way.node('gathered', lot.code, { name: lot.code, millilitres: lot.millilitres ?? null });
  const boils = strands.outOf(lot.code).filter((flow) => flow.kind !== 'carried');
  for (const flow of boils.slice(0, mostPlaces)) {
    const stage: Stage = flow.kind === 'syrup' ? 'packed' : 'boiled';
    way.node(stage, flow.into, { name: flow.into, amount: flow.typed, millilitres: flow.millilitres });
    way.link(lot.code, flow.into, flow.millilitres);
  }
  if (boils.length === 0) way.link(lot.code, way.node('boiled', 'boiled', { happened: false }), null, false);
}

const dot = (what: string, reading: string): DiagramDot => ({ what, reading, stops: false });
