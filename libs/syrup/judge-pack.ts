import { colourClassOf, parseColourClass } from './colour.js';
import type { ColourClass } from './colour.js';
import { type Container, isBulk } from './container.js';
import type { FillReading } from './fill-readings.js';
import { type BoilFacts, allergensOf, judgeBoil } from './judge-boils.js';
import type { DensityFacts } from './density-limits.js';
import { type DefoamerFacts, judgeDefoamer } from './judge-defoamer.js';
import { type JudgedDensity, densityNotRead, judgeDensity } from './judge-density.js';
import { type ThermometerCorrections, fillNotRead, judgeFill, judgeTooHot } from './judge-fill.js';
import { heldJarsOf } from './accept-findings.js';
import { heldJars } from './held-jars.js';
import { judgeGrade } from './judge-grade.js';
import { judgeJars } from './judge-jars.js';
import { judgeProduct } from './judge-product.js';
import { judgeSpoilage, type SpoilageFacts } from './judge-spoilage.js';
import type { PlaceRules } from './places.js';
import type { Percent, Temperature } from './quantities.js';
import { findingOf, rulesVersion } from './rules.js';
import type { Finding, Verdict } from './verdict.js';

/** All that a pack is judged by. What was not read is absent or blank; nothing is filled in. */
export interface PackFacts {
  readonly place: PlaceRules;
  readonly container: Container;
  /** Null while jars are still being filled: readings are judged as they come, missing ones are no findings yet. */
  readonly jars: number | null;
  /** In the kettle or the filler, not in the jar. */
  readonly hotPackTemp?: Temperature | undefined;
  readonly fills: readonly FillReading[];
  readonly density?: DensityFacts | undefined;
  /** The only reading is older than the last boil-up. */
  readonly densityBeforeLastBoilUp?: boolean | undefined;
  /** Null until the seals were checked. */
  readonly sealsFailed: number | null;
  readonly sealsOutcome: string;
  readonly containerPrep: string;
  readonly transmittance?: Percent | undefined;
  readonly colourClass: string;
  readonly clarity: string;
  readonly offFlavour: string;
  /** Drawn for this pack from every lot; null where it isn't known. */
  readonly drawnMl: number | null;
  readonly boils: readonly BoilFacts[];
  readonly thermometersCheckedThisSeason: boolean;
  readonly thermometerCorrections?: ThermometerCorrections | undefined;
  readonly spoilage?: SpoilageFacts | undefined;
  /** Bought syrup that went in, with what its maker answered for the defoamer. */
  readonly bought?: readonly DefoamerFacts[] | undefined;
  /** As typed; blank is pure maple syrup. */
  readonly product?: string | undefined;
  /** Packs that it was poured from, with their products. */
  readonly pouredFrom?: readonly { readonly lot: string; readonly product: string }[] | undefined;
}

/** A pack against every rule, stops first. The same facts give the same verdict, whenever they are judged. */
export function judgePack(facts: PackFacts): Verdict {
  const outside = judgeProduct({
    product: facts.product ?? '',
    pouredFrom: facts.pouredFrom ?? [],
    place: facts.place,
  });
  if (outside.length > 0) return judgeOutside(facts, outside);
  const finished = facts.jars !== null;
  const fill = judgeFill(facts.fills, facts.thermometerCorrections);
  const fillFindings = fill.findings.map((finding) => ({ ...finding, ...coldJars(facts) }));
  const density = densityOf(facts, finished);
  const findings: readonly Finding[] = [
    ...judgeSpoilage(facts.spoilage ?? nothingSeen),
    ...fillFindings,
    ...(finished && facts.fills.length === 0 ? [fillNotRead()] : []),
    ...density.findings,
    ...judgeJars(facts),
    ...judgeGrade(facts),
    ...(facts.bought ?? []).flatMap(judgeDefoamer),
    ...facts.boils.flatMap((boil) => judgeBoil(boil, { finished, litres: facts.place.canada })),
    ...judgeTooHot(facts.hotPackTemp, facts.fills, facts.thermometerCorrections),
    ...thermometer(facts, finished),
  ];
  const held = heldJarsOf(findings);
  return {
    ...(held ? { heldJars: held } : {}),
    findings: [...findings.filter(({ stop }) => stop), ...findings.filter(({ stop }) => !stop)],
    rules: `rules ${rulesVersion}; ${facts.place.id} ${facts.place.rulesVersion}`,
    brix: density.brix,
    brixUncertainty: density.brixUncertainty,
    lowestFill: fill.lowest,
    colour: colourOf(facts),
    colourTyped: facts.colourClass.trim() === '' ? null : facts.colourClass.trim(),
    allergens: allergensOf(facts.boils, facts.bought),
  };
}

/** Another product: its seals, its defoamer and its mould are looked at, but neither fill, density nor grade. */
function judgeOutside(facts: PackFacts, outside: readonly Finding[]): Verdict {
  const findings = [
    ...judgeSpoilage(facts.spoilage ?? nothingSeen),
    ...outside,
    ...judgeJars(facts).filter(({ rule }) => rule.startsWith('seals')),
    ...(facts.bought ?? []).flatMap(judgeDefoamer),
    ...facts.boils.flatMap((boil) => judgeBoil(boil, { finished: facts.jars !== null, litres: facts.place.canada })),
  ];
  return {
    findings: [...findings.filter(({ stop }) => stop), ...findings.filter(({ stop }) => !stop)],
    rules: `rules ${rulesVersion}; ${facts.place.id} ${facts.place.rulesVersion}`,
    brix: null,
    brixUncertainty: null,
    lowestFill: judgeFill(facts.fills, facts.thermometerCorrections).lowest,
    colour: null,
    colourTyped: facts.colourClass.trim() === '' ? null : facts.colourClass.trim(),
    allergens: allergensOf(facts.boils, facts.bought),
  };
}

/** Where the readings note their jars, only those between the good readings around each cold one are held. */
function coldJars(facts: PackFacts): Pick<Finding, 'jars'> {
  if (facts.jars === null) return {};
  const cold = facts.fills.map((fill) => judgeFill([fill], facts.thermometerCorrections).findings.length > 0);
  const jars = heldJars(facts.fills, cold, facts.jars);
  return jars ? { jars } : {};
}

function densityOf({ density, densityBeforeLastBoilUp, place }: PackFacts, finished: boolean): JudgedDensity {
  const nothing = { brix: null, brixUncertainty: null };
  if (!density) return { ...nothing, findings: finished ? [densityNotRead()] : [] };
  if (densityBeforeLastBoilUp) return { ...nothing, findings: finished ? [densityNotRead(density.reading)] : [] };
  return judgeDensity(density, place);
}

/** From the transmittance where it was measured. Processing grade has no colour class to sell by. */
function colourOf({ colourClass, transmittance, container }: PackFacts): ColourClass | null {
  const typed = parseColourClass(colourClass);
  if (typed === 'processing' && isBulk(container)) return null;
  if (transmittance) return colourClassOf(transmittance.percent);
  return typed === undefined || typed === 'processing' ? null : typed;
}

function thermometer(facts: PackFacts, finished: boolean): Finding[] {
  if (facts.thermometersCheckedThisSeason || (!finished && facts.fills.length === 0)) return [];
  const ids = [...new Set(facts.fills.flatMap(({ thermometer: id }) => (id === undefined ? [] : [id])))];
  return [
    findingOf('thermometer-not-checked', {
      limit: 'checked this season in ice (32 °F or 0 °C) and in boiling water',
      found: `no check of ${ids.length > 0 ? `thermometer ${ids.join(', ')}` : 'the thermometer'} this season`,
    }),
  ];
}

const nothingSeen: SpoilageFacts = { lookedAt: [], inspections: [], answers: [], destroyed: 0, sisters: [] };
