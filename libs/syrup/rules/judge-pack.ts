import { colourClassOf, parseColourClass } from '../science/colour.js';
import type { ColourClass } from '../science/colour.js';
import { type Container, isBulk } from '../quantities/container.js';
import type { JarAction } from '../jars/judge-action.js';
import type { CheckInterval } from '../quantities/check-interval.js';
import { jarsOnSale } from '../jars/jars-on-sale.js';
import { type BoilFacts, allergensOf, judgeBoil } from './judge-boils.js';
import type { DensityFacts } from './density-limits.js';
import { type DefoamerFacts, judgeDefoamer } from '../contents/judge-defoamer.js';
import { type JudgedDensity, densityNotRead, judgeDensity } from './judge-density.js';
import { judgeFill } from './judge-fill.js';
import { heldJarsOf } from './accept-findings.js';
import { judgeBrokenGlass } from '../jars/judge-broken-glass.js';
import type { JarSpan } from '../jars/jar-spans.js';
import { judgeGrade } from './judge-grade.js';
import { judgeJars } from '../jars/judge-jars.js';
import { judgeParts, type PartOfPack } from './judge-parts.js';
import { judgeProduct } from '../contents/judge-product.js';
import { judgeHarm, judgeHarmElsewhere } from '../contents/judge-harm.js';
import { judgeThinSyrup } from '../contents/judge-thin-syrup.js';
import { judgeContainer, judgeNotes } from '../contents/judge-notes.js';
import { judgeSpoilage, type SpoilageFacts } from '../contents/judge-spoilage.js';
import { judgeThermometers } from '../instruments/judge-thermometers.js';
import { judgePackTimes } from './judge-times.js';
import { judgeUnits, type TemperaturesOfPack } from './judge-units.js';
import { judgeTooHot } from './judge-too-hot.js';
import { type PlaceRules, rulesInContainer } from '../labelling/places.js';
import type { Percent, Temperature } from '../quantities/quantities.js';
import type { TakenReading } from '../quantities/reading-time.js';
import { rulesVersion } from './rules.js';
import type { Thermometer } from '../instruments/thermometers.js';
import type { Finding, Verdict } from './verdict.js';

/** What a pack is judged by. What was not recorded is absent or blank, never assumed. */
export interface PackFacts {
  readonly place: PlaceRules;
  readonly container: Container;
  /** When it was packed, an instant in milliseconds. */
  readonly packedMs?: number | undefined;
  /** Null while jars are being filled: readings are judged as they arrive, missing ones are no findings yet. */
  readonly jars: number | null;
  /** Temperature in the kettle or the filler, not in the jar. */
  readonly hotPackTemp?: Temperature | undefined;
  readonly fills: readonly TakenReading[];
  readonly density?: DensityFacts | undefined;
  /** The only reading is older than the last boil-up. */
  readonly densityBeforeLastBoilUp?: boolean | undefined;
  /** Null until the seals are checked. */
  readonly sealsFailed: number | null;
  readonly sealsOutcome: string;
  /** Jars sold, given or sampled, less those returned. */
  readonly sentOut?: number | undefined;
  readonly sealsAfterMs?: number | undefined;
  readonly containerPrep: string;
  readonly transmittance?: Percent | undefined;
  readonly colourClass: string;
  readonly clarity: string;
  readonly offFlavour: string;
  /** Drawn for this pack from all lots; null where it isn't known. */
  readonly drawnMl: number | null;
  readonly boils: readonly BoilFacts[];
  /** The sugarhouse's thermometers, with all their checks. */
  readonly thermometers: readonly Thermometer[];
  /** What corrective actions did with the jars they name, oldest first. */
  readonly actions?: readonly JarAction[] | undefined;
  /** New readings by corrective actions of some of the jars, besides fill temperatures. */
  readonly parts?: readonly PartOfPack[] | undefined;
  /** How often the sugarhouse reads a jar; if absent, the distance of readings isn't judged. */
  readonly interval?: CheckInterval | undefined;
  readonly gapsHold?: boolean | undefined;
  /** Jars near which glass broke. */
  readonly brokenGlass?: readonly JarSpan[] | undefined;
  /** All its syrup was poured into other packs. */
  readonly isPouredIntoOthers?: boolean | undefined;
  readonly spoilage?: SpoilageFacts | undefined;
  /** Bought syrup that went in, with its supplier's answer about the defoamer. */
  readonly bought?: readonly DefoamerFacts[] | undefined;
  /** As typed; blank is pure maple syrup. */
  readonly product?: string | undefined;
  /** Packs that were too thin and that it was poured from. */
  readonly thinPoured?: readonly string[] | undefined;
  /** The pack’s note, free text. */
  readonly note?: string | undefined;
  /** Packs that it was poured from, with their products. */
  readonly pouredFrom?: readonly { readonly lot: string; readonly product: string }[] | undefined;
}

/** Judges a pack by every rule, hold rules first. The verdict depends on the facts only, not on the time. */
export function judgePack(packFacts: PackFacts): Verdict {
  const facts = { ...packFacts, place: rulesInContainer(packFacts.place, packFacts.container.volume.millilitres) };
  const outside = judgeProduct({
    product: facts.product ?? '',
    note: facts.note,
    pouredFrom: facts.pouredFrom ?? [],
    place: facts.place,
  });
  if (outside.length > 0) return judgeOtherProduct(facts, outside);
  const finished = facts.jars !== null;
  const fill = judgeFill({ ...facts, actions: facts.actions ?? [] });
  const density = judgePackDensity(facts, finished);
  const found: readonly Finding[] = [
    ...judgeSpoilage(facts.spoilage ?? noSpoilageFacts),
    ...judgeHarm(facts.spoilage?.observations ?? [], facts.spoilage?.answers ?? []),
    ...judgeHarmElsewhere(facts.spoilage?.harmElsewhere ?? []),
    ...judgePackNotes(facts),
    ...judgeThinSyrup(
      facts.thinPoured ?? [],
      !density.findings.some(({ stop }) => stop),
      facts.spoilage?.answers ?? [],
    ),
    ...fill.findings,
    ...density.findings,
    ...judgeParts(facts.parts ?? [], facts.place),
    ...judgeJars(facts),
    ...judgeBrokenGlass(facts.brokenGlass ?? [], facts.actions ?? [], facts.jars, facts),
    ...judgeGrade(facts),
    ...(facts.bought ?? []).flatMap(judgeDefoamer),
    ...facts.boils.flatMap((boil) => judgeBoil(boil, { finished, litres: facts.place.canada })),
    ...judgeTooHot(facts.hotPackTemp, fill.readings),
    ...judgeUnits(temperaturesOf(facts), facts.place),
    ...judgePackTimes(facts.packedMs, facts.boils),
    ...(finished || facts.fills.length > 0 ? judgeThermometers(fill.readings, facts.thermometers) : []),
  ];
  const findings = jarsOnSale(found, { ...facts, gone: fill.gone, actions: facts.actions ?? [] });
  const held = heldJarsOf(findings);
  return {
    ...(held ? { heldJars: held } : {}),
    ...(fill.uncovered.length > 0 ? { uncovered: fill.uncovered } : {}),
    ...(fill.gone.length > 0 ? { gone: fill.gone } : {}),
    findings: [...findings.filter(({ stop }) => stop), ...findings.filter(({ stop }) => !stop)],
    rules: `rules ${rulesVersion}; ${facts.place.id} ${facts.place.rulesVersion}`,
    brix: density.brix,
    brixUncertainty: density.brixUncertainty,
    lowestFill: fill.lowest,
    colour: colourClassOfPack(facts),
    colourTyped: facts.colourClass.trim() === '' ? null : facts.colourClass.trim(),
    allergens: allergensOf(facts.boils, facts.bought),
  };
}

/** Judges another product than maple syrup: seals, defoamer, notes and spoilage, but not fill, density or grade. */
function judgeOtherProduct(facts: PackFacts, outside: readonly Finding[]): Verdict {
  const fill = judgeFill({ ...facts, actions: facts.actions ?? [] });
  const found = [
    ...judgeSpoilage(facts.spoilage ?? noSpoilageFacts),
    ...judgeHarm(facts.spoilage?.observations ?? [], facts.spoilage?.answers ?? []),
    ...judgeHarmElsewhere(facts.spoilage?.harmElsewhere ?? []),
    ...judgePackNotes(facts, true),
    ...outside,
    ...judgeJars(facts).filter(({ rule }) => rule.startsWith('seals')),
    ...judgeBrokenGlass(facts.brokenGlass ?? [], facts.actions ?? [], facts.jars, facts),
    ...(facts.bought ?? []).flatMap(judgeDefoamer),
    ...facts.boils.flatMap((boil) => judgeBoil(boil, { finished: facts.jars !== null, litres: facts.place.canada })),
  ];
  const findings = jarsOnSale(found, { ...facts, gone: fill.gone, actions: facts.actions ?? [] });
  return {
    ...(fill.gone.length > 0 ? { gone: fill.gone } : {}),
    findings: [...findings.filter(({ stop }) => stop), ...findings.filter(({ stop }) => !stop)],
    rules: `rules ${rulesVersion}; ${facts.place.id} ${facts.place.rulesVersion}`,
    brix: null,
    brixUncertainty: null,
    lowestFill: fill.lowest,
    colour: null,
    colourTyped: facts.colourClass.trim() === '' ? null : facts.colourClass.trim(),
    allergens: allergensOf(facts.boils, facts.bought),
  };
}

const judgePackNotes = (
  { spoilage = noSpoilageFacts, place, container, colourClass }: PackFacts,
  isOtherProduct = false,
): Finding[] => [
  ...judgeContainer(spoilage),
  ...judgeNotes({
    ...spoilage,
    place,
    isOtherProduct,
    isProcessing: parseColourClass(colourClass) === 'processing' && isBulk(container),
  }),
];

const temperaturesOf = ({
  hotPackTemp,
  fills,
  density,
  spoilage = noSpoilageFacts,
}: PackFacts): TemperaturesOfPack => ({
  hotPackTemp,
  fills: fills.map(({ temperature }) => temperature),
  density,
  answers: spoilage.answers,
});

function judgePackDensity({ density, densityBeforeLastBoilUp, place }: PackFacts, finished: boolean): JudgedDensity {
  const nothing = { brix: null, brixUncertainty: null };
  if (!density) return { ...nothing, findings: finished ? [densityNotRead()] : [] };
  if (densityBeforeLastBoilUp) return { ...nothing, findings: finished ? [densityNotRead(density.reading)] : [] };
  return judgeDensity(density, place);
}

/** From the transmittance where it was measured. Processing grade has no colour class. */
function colourClassOfPack({ colourClass, transmittance, container }: PackFacts): ColourClass | null {
  const typed = parseColourClass(colourClass);
  if (typed === 'processing' && isBulk(container)) return null;
  if (transmittance) return colourClassOf(transmittance.percent);
  return typed === undefined || typed === 'processing' ? null : typed;
}

const noSpoilageFacts: SpoilageFacts = { observations: [], inspections: [], answers: [], destroyed: 0, otherPacks: [] };
