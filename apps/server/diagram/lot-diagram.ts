import type { Lot } from '#libs/store/queries/lots.js';
import type { Flow } from '#libs/store/queries/trace.js';
import { classSwatch, swatch } from '#libs/reports/diagram/swatch.js';
import { cachedDrawing } from './cached-drawings.js';
import type { Stage, LotDiagram, DiagramDot, DiagramLink, DiagramNode } from '#libs/reports/diagram/shape.js';
import { formatTemperature, formatDensity } from '#libs/syrup/quantities/format-quantities.js';
import type { Principal } from '../http/principal.js';
import { many } from '../text/amounts.js';
import { clock } from '../text/times.js';
import { maxBoils, maxSapStrands, readBranches, type Branches } from './read-branches.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** The diagram of a lot up to now, with the steps still to come. */
export function diagramFrom(branches: Branches, lot: Lot, now: Date): LotDiagram {
  const diagram = new DiagramBuilder(lot.code);
  const directSources = new Set(branches.into(lot.code).map((flow) => flow.from));
  for (const boil of branches.boilsOf(lot).slice(0, maxBoils))
    addBoil(branches, diagram, boil, boil === lot.code || directSources.has(boil));
  for (const pack of branches.pouredInto(lot)) addPouredBack(branches, diagram, pack);
  if (lot.kind === 'pack') addPack(branches, diagram, lot, now);
  if (lot.kind === 'boil') addFutureSteps(branches, diagram, lot);
  if (lot.kind === 'gathering' || lot.kind === 'receipt') addSapLot(branches, diagram, lot);
  return diagram.build();
}

/** Narrower than the page, so that its text comes out as large as the page's small text. */
export const diagramLengthPt = 680;

/** Small lot diagrams for the first rows of a list; one for every row would be most of the page's size. */
export async function smallDiagrams(
  { book, writeContext: context }: Principal,
  lots: readonly Lot[],
): Promise<Map<string, string>> {
  const diagrams = new Map<string, string>();
  const shownLots = lots.slice(0, maxSmallDiagrams);
  const branches = await readBranches(sugarhouseReader(book.read, context.sugarhouse), shownLots);
  for (const lot of shownLots) {
    const svg = cachedDrawing(diagramFrom(branches, lot, context.now), 'small');
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

const maxSmallDiagrams = 24;

/** Further places are named only in the page's text. */
const maxPlaces = 4;

class DiagramBuilder {
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
  build(): LotDiagram {
    return { code: this.code, nodes: this.nodes, links: this.links, syrupColour: this.syrupColour };
  }
}

/** Boils that left only the contents of their pans are drawn as part of the boil that these went into. */
function addBoil(branches: Branches, diagram: DiagramBuilder, boil: string, rests: boolean): void {
  const body = branches.boil(boil);
  if (!body) return;
  const syrup = body.syrupVolume;
  diagram.node('boiled', boil, {
    name: boil,
    amount: syrup?.typed ?? '',
    millilitres: syrup?.millilitres ?? null,
    dots: [
      ...(body.waterBoilsAt ? [dot('water boils', formatTemperature(body.waterBoilsAt))] : []),
      ...(body.finishTemp ? [dot('drawn off', formatTemperature(body.finishTemp))] : []),
    ],
  });
  addBoilInputs(branches, diagram, boil);
  const size = syrup?.millilitres ?? null;
  const draws = branches.draws(boil);
  const medium = body.filterMedium || (draws.find((each) => each.filterMedium)?.filterMedium ?? '');
  const filterTemp = body.filterTemp ?? draws.find((each) => each.filterTemp)?.filterTemp;
  const filtered = Boolean(filterTemp) || medium !== '';
  diagram.node('filtered', `${boil} filtered`, {
    amount: medium,
    millilitres: size,
    happened: filtered,
    dots: filterTemp ? [dot('filtered', formatTemperature(filterTemp))] : [],
  });
  diagram.link(boil, `${boil} filtered`, size, filtered);
  if (!rests) return;
  diagram.node('resting', `${boil} rested`, {
    amount: body.restedFrom ? `from ${clock(body.restedFrom)}` : '',
    millilitres: size,
    happened: Boolean(body.restedFrom),
  });
  diagram.link(`${boil} filtered`, `${boil} rested`, size, Boolean(body.restedFrom));
}

function addBoilInputs(branches: Branches, diagram: DiagramBuilder, boil: string): void {
  const flows = branches.into(boil);
  const sap = flows.filter((flow) => flow.kind === 'sap');
  if (sap.length > maxSapStrands) {
    const total = sap.reduce((sum, flow) => sum + flow.millilitres, 0);
    const id = diagram.node('gathered', `${boil}<sap`, { name: many(sap.length, 'gathering'), millilitres: total });
    diagram.link(id, boil, total);
  } else
    for (const flow of sap) {
      const body = branches.gathering(flow.from);
      const id = diagram.node('gathered', `${boil}<${flow.from}`, {
        name: flow.from,
        amount: flow.typed,
        millilitres: flow.millilitres,
        dots: body?.sugar ? [dot('sap', formatDensity(body.sugar))] : [],
      });
      diagram.link(id, boil, flow.millilitres);
    }
  for (const flow of flows.filter((each) => each.kind === 'carried').slice(0, 1)) {
    const view = { name: `pans of ${flow.from}`, amount: flow.typed, millilitres: flow.millilitres };
    diagram.link(diagram.node('gathered', `${boil}<${flow.from}`, view), boil, flow.millilitres);
  }
  if (flows.length === 0) {
    const id = diagram.node('gathered', `${boil}<sap`, { name: 'sap' });
    diagram.link(id, boil, null);
  }
}

function addPack(branches: Branches, diagram: DiagramBuilder, pack: Lot, now: Date): void {
  const body = branches.pack(pack.code);
  if (!body) return;
  const verdict = pack.verdict;
  const low = verdict?.lowestFill;
  const hasStop = (rule: string): boolean =>
    verdict?.findings.some((each) => each.stop && each.rule.startsWith(rule)) ?? false;
  const density = body.densityReading;
  diagram.node('packed', pack.code, {
    name: pack.code,
    amount: pack.jars === undefined ? '' : many(pack.jars, 'jar'),
    millilitres: pack.millilitres ?? null,
    dots: [
      ...(density ? [{ ...dot('density', formatDensity(density)), hasStop: hasStop('density') }] : []),
      { ...dot('lowest fill', low ? formatTemperature(low) : 'not read'), hasStop: hasStop('fill') },
    ],
  });
  const colour = verdict?.colour;
  diagram.syrupColour = body.transmittance ? swatch(body.transmittance.percent) : colour ? classSwatch(colour) : null;
  for (const flow of branches.into(pack.code)) {
    const from = sourceNode(diagram, flow);
    diagram.link(from, pack.code, flow.millilitres);
  }
  addSentOut(branches, diagram, pack, now);
}

/** A pack that was poured back is drawn at the stage of waiting syrup: between the filter and the jars it is in now. */
function addPouredBack(branches: Branches, diagram: DiagramBuilder, pack: Lot): void {
  const amount = pack.jars === undefined ? '' : many(pack.jars, 'jar');
  diagram.node('resting', pack.code, { name: pack.code, amount, millilitres: pack.millilitres ?? null });
  for (const flow of branches.into(pack.code)) {
    const filtered = `${flow.from} filtered`;
    if (diagram.has(filtered)) diagram.link(filtered, pack.code, flow.millilitres);
  }
}

/** A boil's syrup comes from its rest; a pack that was poured back and bought syrup have a line each. */
function sourceNode(diagram: DiagramBuilder, flow: Flow): string {
  const rested = `${flow.from} rested`;
  if (diagram.has(rested)) return rested;
  if (diagram.has(flow.from)) return flow.from;
  return diagram.node('resting', flow.from, { name: flow.from, amount: flow.typed, millilitres: flow.millilitres });
}

function addSentOut(branches: Branches, diagram: DiagramBuilder, pack: Lot, now: Date): void {
  const places = new Map<string, number>();
  for (const { kind, sentAt, to, jars } of branches.movements(pack.code))
    if (kind !== 'returned' && Date.parse(sentAt) <= now.getTime()) places.set(to, (places.get(to) ?? 0) + jars);
  const byJars = [...places].sort((a, b) => b[1] - a[1]);
  const jarMillilitres = pack.jarMillilitres ?? 0;
  for (const [to, jars] of byJars.slice(0, maxPlaces)) {
    const id = diagram.node('sent out', `out ${to}`, {
      name: to,
      amount: many(jars, 'jar'),
      millilitres: jars * jarMillilitres,
    });
    diagram.link(pack.code, id, jars * jarMillilitres);
  }
  if (byJars.length > 0) return;
  diagram.link(pack.code, diagram.node('sent out', 'out', { happened: false }), null, false);
}

function addFutureSteps(branches: Branches, diagram: DiagramBuilder, boil: Lot): void {
  const packs = branches.outOf(boil.code).filter((flow) => flow.kind === 'syrup');
  for (const flow of packs.slice(0, maxPlaces)) {
    const id = diagram.node('packed', flow.into, {
      name: flow.into,
      amount: flow.typed,
      millilitres: flow.millilitres,
    });
    diagram.link(`${boil.code} rested`, id, flow.millilitres);
    diagram.link(id, diagram.node('sent out', `${flow.into} out`, { happened: false }), null, false);
  }
  if (packs.length > 0) return;
  diagram.link(`${boil.code} rested`, diagram.node('packed', 'packed', { happened: false }), null, false);
  diagram.link('packed', diagram.node('sent out', 'out', { happened: false }), null, false);
}

function addSapLot(branches: Branches, diagram: DiagramBuilder, lot: Lot): void {
  diagram.node('gathered', lot.code, { name: lot.code, millilitres: lot.millilitres ?? null });
  const boils = branches.outOf(lot.code).filter((flow) => flow.kind !== 'carried');
  for (const flow of boils.slice(0, maxPlaces)) {
    const stage: Stage = flow.kind === 'syrup' ? 'packed' : 'boiled';
    diagram.node(stage, flow.into, { name: flow.into, amount: flow.typed, millilitres: flow.millilitres });
    diagram.link(lot.code, flow.into, flow.millilitres);
  }
  if (boils.length === 0) diagram.link(lot.code, diagram.node('boiled', 'boiled', { happened: false }), null, false);
}

const dot = (what: string, reading: string): DiagramDot => ({ what, reading, hasStop: false });
