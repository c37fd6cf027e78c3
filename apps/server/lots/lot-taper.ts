import type { BoilBody, DispatchBody, DrawBody, GatheringBody, PackBody } from '#libs/records/bodies.js';
import { findRecord, type Lot, recordsAbout } from '#libs/records/lots.js';
import type { Sql } from '#libs/records/sql.js';
import { type Flow, flowsInto, flowsOutOf, lotsUpstream, ofKind, syrupSources } from '#libs/records/trace.js';
import { classSwatch, swatch } from '#libs/reports/swatch.js';
import { taperSvg } from '#libs/reports/taper.js';
import type { Stage, Taper, TaperKnot, TaperLink, TaperNode } from '#libs/reports/taper-layout.js';
import { shown, shownDensity } from '#libs/syrup/shown.js';
import type { Visitor } from '../web/visitor.js';
import { many } from '../words/amounts.js';
import { clock } from '../words/times.js';

/** The way of a lot as far as it has come, what hasn't happened yet ahead of it. */
export async function lotTaper({ book, desk }: Visitor, lot: Lot): Promise<Taper> {
  const [sql, { sugarhouse }] = [book.read, desk];
  const way = new Way(lot.code);
  const above = await lotsUpstream(sql, sugarhouse, lot.code);
  const boils = lot.kind === 'boil' ? [lot] : await boilsOfSyrup(sql, sugarhouse, lot, above);
  const poured = ofKind(above, 'pack').filter((each) => each.code !== lot.code);
  const direct = new Set((await flowsInto(sql, sugarhouse, lot.code)).map((flow) => flow.from));
  for (const boil of boils.slice(0, mostBoils))
    await addBoil(sql, sugarhouse, way, boil, boil.code === lot.code || direct.has(boil.code));
  for (const pack of poured) await addPouredBack(sql, sugarhouse, way, pack);
  if (lot.kind === 'pack') await addPack(sql, sugarhouse, way, lot, desk.now);
  if (lot.kind === 'boil') await addAhead(sql, sugarhouse, way, lot);
  if (lot.kind === 'gathering' || lot.kind === 'receipt') await addSap(sql, sugarhouse, way, lot);
  return way.drawn();
}

/** Laid out shorter than the page is wide, so that its words come out as large as the page's small ones. */
export const taperLengthPt = 680;

/** Small tapers for the newest rows of a list; older rows go without, for each asks the book a dozen times. */
export async function smallWays(who: Visitor, lots: readonly Lot[]): Promise<Map<string, string>> {
  const ways = new Map<string, string>();
  for (const lot of lots.slice(0, mostSmall)) {
    const svg = taperSvg(await lotTaper(who, lot), 'small');
    // The row says it in words already.
    ways.set(
      lot.code,
      svg
        .replace('role="img"', 'aria-hidden="true"')
        .replace(/ aria-labelledby="[^"]*"|<title.*?<\/title>|<desc.*?<\/desc>/gs, ''),
    );
  }
  return ways;
}

const mostSmall = 24;

/** More strands than these are drawn as one. */
const mostBoils = 4;
const mostSapStrands = 3;
const mostPlaces = 4;

/** Boils whose syrup is in it. Those whose pans were only carried over stand as a strand of the boil they went into. */
async function boilsOfSyrup(sql: Sql, sugarhouse: string, lot: Lot, above: readonly Lot[]): Promise<Lot[]> {
  if (lot.kind !== 'pack') return [];
  const sources = new Set((await syrupSources(sql, sugarhouse, lot.code)).map((each) => each.code));
  return ofKind(above, 'boil').filter((boil) => sources.has(boil.code));
}

class Way {
  private readonly nodes: TaperNode[] = [];
  private readonly links: TaperLink[] = [];
  syrupColour: string | null = null;
  constructor(private readonly code: string) {}

  node(stage: Stage, id: string, told: Partial<TaperNode> = {}): string {
    this.nodes.push({ id, stage, name: '', amount: '', millilitres: null, happened: true, knots: [], ...told });
    return id;
  }
  link(from: string, to: string, millilitres: number | null, happened = true): void {
    this.links.push({ from, to, millilitres, happened });
  }
  has(id: string): boolean {
    return this.nodes.some((node) => node.id === id);
  }
  drawn(): Taper {
    return { code: this.code, nodes: this.nodes, links: this.links, syrupColour: this.syrupColour };
  }
}

async function addBoil(sql: Sql, sugarhouse: string, way: Way, boil: Lot, rests: boolean): Promise<void> {
  const body = (await findRecord<BoilBody>(sql, sugarhouse, 'boil', boil.code))?.body;
  if (!body) return;
  const syrup = body.syrupVolume;
  way.node('boiled', boil.code, {
    name: boil.code,
    amount: syrup?.typed ?? '',
    millilitres: syrup?.millilitres ?? null,
    knots: [
      ...(body.waterBoilsAt ? [knot('water boils', shown(body.waterBoilsAt))] : []),
      ...(body.finishTemp ? [knot('drawn off', shown(body.finishTemp))] : []),
    ],
  });
  await addInto(sql, sugarhouse, way, boil.code);
  const size = syrup?.millilitres ?? null;
  const draws = (await recordsAbout<DrawBody>(sql, sugarhouse, boil.code, 'draw')).map((each) => each.body);
  const medium = body.filterMedium || (draws.find((each) => each.filterMedium)?.filterMedium ?? '');
  const filterTemp = body.filterTemp ?? draws.find((each) => each.filterTemp)?.filterTemp;
  const filtered = Boolean(filterTemp) || medium !== '';
  way.node('filtered', `${boil.code} filtered`, {
    amount: medium,
    millilitres: size,
    happened: filtered,
    knots: filterTemp ? [knot('filtered', shown(filterTemp))] : [],
  });
  way.link(boil.code, `${boil.code} filtered`, size, filtered);
  if (!rests) return;
  way.node('resting', `${boil.code} rested`, {
    amount: body.restedFrom ? `from ${clock(body.restedFrom)}` : '',
    millilitres: size,
    happened: Boolean(body.restedFrom),
  });
  way.link(`${boil.code} filtered`, `${boil.code} rested`, size, Boolean(body.restedFrom));
}

async function addInto(sql: Sql, sugarhouse: string, way: Way, boil: string): Promise<void> {
  const flows = await flowsInto(sql, sugarhouse, boil);
  const sap = flows.filter((flow) => flow.kind === 'sap');
  if (sap.length > mostSapStrands) {
    const total = sap.reduce((sum, flow) => sum + flow.millilitres, 0);
    const id = way.node('gathered', `${boil}<sap`, { name: many(sap.length, 'gathering'), millilitres: total });
    way.link(id, boil, total);
  } else
    for (const flow of sap) {
      const body = (await findRecord<GatheringBody>(sql, sugarhouse, 'gathering', flow.from))?.body;
      const id = way.node('gathered', `${boil}<${flow.from}`, {
        name: flow.from,
        amount: flow.typed,
        millilitres: flow.millilitres,
        knots: body?.sugar ? [knot('sap', shownDensity(body.sugar))] : [],
      });
      way.link(id, boil, flow.millilitres);
    }
  for (const flow of flows.filter((each) => each.kind === 'carried').slice(0, 1)) {
    const told = { name: `pans of ${flow.from}`, amount: flow.typed, millilitres: flow.millilitres };
    way.link(way.node('gathered', `${boil}<${flow.from}`, told), boil, flow.millilitres);
  }
  if (flows.length === 0) {
    const id = way.node('gathered', `${boil}<sap`, { name: 'sap' });
    way.link(id, boil, null);
  }
}

async function addPack(sql: Sql, sugarhouse: string, way: Way, pack: Lot, now: Date): Promise<void> {
  const body = (await findRecord<PackBody>(sql, sugarhouse, 'pack', pack.code))?.body;
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
    knots: [
      ...(density ? [{ ...knot('density', shownDensity(density)), stops: stops('density') }] : []),
      { ...knot('lowest fill', low ? shown(low) : 'not read'), stops: stops('fill') },
    ],
  });
  const colour = verdict?.colour;
  way.syrupColour = body.transmittance ? swatch(body.transmittance.percent) : colour ? classSwatch(colour) : null;
  for (const flow of await flowsInto(sql, sugarhouse, pack.code)) {
    const from = sourceNode(way, flow);
    way.link(from, pack.code, flow.millilitres);
  }
  await addSentOut(sql, sugarhouse, way, pack, now);
}

/** A pack that was poured back stands where its syrup waited: between the filter and the jars it is in now. */
async function addPouredBack(sql: Sql, sugarhouse: string, way: Way, pack: Lot): Promise<void> {
  const amount = pack.jars === undefined ? '' : many(pack.jars, 'jar');
  way.node('resting', pack.code, { name: pack.code, amount, millilitres: pack.millilitres ?? null });
  for (const flow of await flowsInto(sql, sugarhouse, pack.code)) {
    const filtered = `${flow.from} filtered`;
    if (way.has(filtered)) way.link(filtered, pack.code, flow.millilitres);
  }
}

/** A boil's syrup comes from its rest; a pack poured back or bought syrup is a line of its own. */
function sourceNode(way: Way, flow: Flow): string {
  const rested = `${flow.from} rested`;
  if (way.has(rested)) return rested;
  if (way.has(flow.from)) return flow.from;
  return way.node('resting', flow.from, { name: flow.from, amount: flow.typed, millilitres: flow.millilitres });
}

async function addSentOut(sql: Sql, sugarhouse: string, way: Way, pack: Lot, now: Date): Promise<void> {
  const places = new Map<string, number>();
  for (const { body } of await recordsAbout<DispatchBody>(sql, sugarhouse, pack.code, 'dispatch'))
    if (body.kind !== 'returned' && Date.parse(body.sentAt) <= now.getTime())
      places.set(body.to, (places.get(body.to) ?? 0) + body.jars);
  const most = [...places].sort((a, b) => b[1] - a[1]);
  const each = pack.jarMillilitres ?? 0;
  for (const [to, jars] of most.slice(0, mostPlaces)) {
    const id = way.node('sent out', `out ${to}`, { name: to, amount: many(jars, 'jar'), millilitres: jars * each });
    way.link(pack.code, id, jars * each);
  }
  if (most.length > 0) return;
  way.link(pack.code, way.node('sent out', 'out', { happened: false }), null, false);
}

async function addAhead(sql: Sql, sugarhouse: string, way: Way, boil: Lot): Promise<void> {
  const packs = (await flowsOutOf(sql, sugarhouse, boil.code)).filter((flow) => flow.kind === 'syrup');
  for (const flow of packs.slice(0, mostPlaces)) {
    const id = way.node('packed', flow.into, { name: flow.into, amount: flow.typed, millilitres: flow.millilitres });
    way.link(`${boil.code} rested`, id, flow.millilitres);
    way.link(id, way.node('sent out', `${flow.into} out`, { happened: false }), null, false);
  }
  if (packs.length > 0) return;
  way.link(`${boil.code} rested`, way.node('packed', 'packed', { happened: false }), null, false);
  way.link('packed', way.node('sent out', 'out', { happened: false }), null, false);
}

async function addSap(sql: Sql, sugarhouse: string, way: Way, lot: Lot): Promise<void> {
  way.node('gathered', lot.code, { name: lot.code, millilitres: lot.millilitres ?? null });
  const boils = (await flowsOutOf(sql, sugarhouse, lot.code)).filter((flow) => flow.kind !== 'carried');
  for (const flow of boils.slice(0, mostPlaces)) {
    const stage: Stage = flow.kind === 'syrup' ? 'packed' : 'boiled';
    way.node(stage, flow.into, { name: flow.into, amount: flow.typed, millilitres: flow.millilitres });
    way.link(lot.code, flow.into, flow.millilitres);
  }
  if (boils.length === 0) way.link(lot.code, way.node('boiled', 'boiled', { happened: false }), null, false);
}

const knot = (what: string, reading: string): TaperKnot => ({ what, reading, stops: false });
