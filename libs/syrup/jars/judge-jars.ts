import { type Container, isBulk, needsPreheating } from '../quantities/container.js';
import { formatVolume } from '../rules/judge-boils.js';
import { isBlank, isNone, isOffSale, isPackedAgain, isWarmed } from '../free-text/short-answers.js';
import { findingOf } from '../rules/rules.js';
import { formatHours, formatRounded } from '../quantities/format-quantities.js';
import type { Finding } from '../rules/verdict.js';

/** What a pack’s jars are judged by. */
export interface JarFacts {
  readonly container: Container;
  readonly jars: number | null;
  /** Syrup drawn for the pack; null where it is unknown. */
  readonly drawnMl: number | null;
  readonly sealsFailed: number | null;
  readonly sealsOutcome: string;
  /** How long after filling the seals were counted, where that is known: too early counts as no check. */
  readonly sealsAfterMs?: number | undefined;
  /** Sold, given or sampled, less what was returned. */
  readonly sentOut?: number | undefined;
  readonly containerPrep: string;
  readonly place: { readonly canada: boolean };
}

/** Findings on the jars themselves: their contents against the syrup drawn, seals, preheating. */
export function judgeJars(facts: JarFacts): Finding[] {
  return [...moreThanDrawn(facts), ...sealFindings(facts), ...preheatingFindings(facts)];
}

/** The share by which measuring with pails and gauges may err: common practice, no source. */
const measuringTolerance = 0.05;

function moreThanDrawn({ container, jars, drawnMl, place }: JarFacts): Finding[] {
  if (jars === null || drawnMl === null) return [];
  const inJarsMl = jars * container.volume.millilitres;
  if (inJarsMl <= drawnMl * (1 + measuringTolerance) * (1 + 1e-9)) return [];
  const inJars = `${jars} × ${container.volume.typed} is ${formatVolume(inJarsMl, place.canada)}`;
  return [
    findingOf('more-in-jars-than-drawn', {
      limit: `no more than ${formatRounded(measuringTolerance * 100, 0)} % more in the jars than was drawn`,
      found:
        drawnMl > 0
          ? `${inJars}, ${percentOver(inJarsMl / drawnMl)} % more than the ${formatVolume(drawnMl, place.canada)} drawn`
          : `${inJars}; how much syrup was drawn for them is not recorded`,
    }),
  ];
}

/** The percentage above 100, with enough decimals that just over 5 % isn’t printed as 5 %. */
function percentOver(share: number): string {
  const percent = (share - 1) * 100;
  const decimals = [1, 2, 3, 4].find((places) => Number(percent.toFixed(places)) > measuringTolerance * 100) ?? 6;
  return formatRounded(percent, decimals);
}

/** 12 h, the least of the 12 to 24 that a lid takes to seal: USDA Agriculture Information Bulletin 539. */
export const leastSealCoolingMs = 12 * 3_600_000;

function sealFindings(facts: JarFacts): Finding[] {
  return [...failedSealFindings(facts), ...earlyCountFindings(facts)];
}

/** An advisory where seals were counted while the jars were warm: a lid may still come loose. */
function earlyCountFindings({ container, jars, sealsFailed, sealsAfterMs }: JarFacts): Finding[] {
  if (jars === null || sealsFailed === null || sealsFailed >= jars || isBulk(container)) return [];
  if (sealsAfterMs === undefined || sealsAfterMs >= leastSealCoolingMs) return [];
  return [
    findingOf('seals-not-checked', {
      limit: 'every lid checked after cooling, 12 to 24 h after filling: drawn down, does not flex',
      found:
        sealsAfterMs < 0
          ? `${sealsFailed} failed by a count made or entered before the last jars were filled: count them again when they are cold`
          : `${sealsFailed} failed by a count made or entered ${formatHours(sealsAfterMs / 3_600_000)} after filling, too early to tell: count them again when they are cold`,
    }),
  ];
}

/** The sentence of the finding where nobody has counted failed seals. */
export const sealsNotCounted = 'seals not checked yet';

function failedSealFindings({ jars, sealsFailed, sealsOutcome, sentOut = 0 }: JarFacts): Finding[] {
  if (sealsFailed === null)
    return jars === null
      ? []
      : [
          findingOf('seals-not-checked', {
            limit: 'every lid checked after cooling: drawn down, does not flex',
            found: sealsNotCounted,
          }),
        ];
  if (sealsFailed === 0) return [];
  if (jars !== null && jars > 0 && sealsFailed >= jars)
    return [
      findingOf('seals-failed', {
        limit: 'an intact seal on every jar that is sent out',
        found: `${jars === 1 ? 'the only seal' : `all ${jars} seals`} failed`,
        wayOut: 'Pack all of it again with new lids and check those seals, pour it back, or destroy it.',
      }),
    ];
  if (isOffSale(sealsOutcome)) {
    if (jars === null || isPackedAgain(sealsOutcome) || sentOut <= jars - sealsFailed) return [];
    const unsealed = sentOut + sealsFailed - jars;
    return [
      findingOf('seals-failed', {
        limit: 'an intact seal on every jar that is sent out',
        found: `${sealsFailed} of ${jars} seals failed, but ${sentOut} jars were sent out: at least ${unsealed} of them had no seal`,
        wayOut:
          'Call everybody who has jars of this lot (its recall list names them): a jar without a seal is not eaten. Record the jars that are returned; where a count is wrong, correct it.',
      }),
    ];
  }
  return [
    findingOf('seals-failed', {
      limit:
        'each jar whose seal failed taken off sale (refrigerated and used, reheated and packed again, poured back or destroyed)',
      found: `${sealsFailed} ${sealsFailed === 1 ? 'seal' : 'seals'} failed, ${isNone(sealsOutcome) ? 'no outcome recorded' : `“${sealsOutcome.trim()}”`}`,
      wayOut:
        'Take them off sale and record how: refrigerated and used at home, packed again, poured back or destroyed. The other jars may be sent out.',
    }),
  ];
}

function preheatingFindings({ container, containerPrep, jars }: JarFacts): Finding[] {
  if (!needsPreheating(container) || isWarmed(containerPrep)) return [];
  if (isBlank(containerPrep) && jars === null) return [];
  return [
    findingOf('not-preheated', {
      limit: 'glass and cans warmed before they are filled',
      found: `${container.kind}: ${isBlank(containerPrep) ? 'whether they were warmed is not recorded' : `“${containerPrep.trim()}”`}`,
    }),
  ];
}
