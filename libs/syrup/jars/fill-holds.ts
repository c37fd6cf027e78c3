import { checksThatCount, offsetOf } from '../instruments/instrument-checks.js';
import { type JarSpan, mergedSpans, formatSpans } from './held-jars.js';
import { holdsAll, jarsIn } from '../quantities/jar-spans.js';
import type { ReadingEvidence, SuspectEvidence } from '../rules/finding-evidence.js';
import { coldestInJar, hundredthsInUnit, type JudgedReading, readingInText } from '../rules/judge-reading.js';
import { degreesTyped, rounded } from '../quantities/decimal-text.js';
import type { Temperature } from '../quantities/quantities.js';
import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';

type FillRule = 'fill-temperature' | 'fill-perhaps-hot-enough' | 'thermometer-unreliable';

/** A reading that holds jars: those named, or the whole pack. */
export interface FillHold {
  readonly rule: FillRule;
  readonly reading: JudgedReading;
  /** Out of how many readings. */
  readonly readingCount: number;
  readonly jars: readonly JarSpan[] | undefined;
  readonly suspect?: { readonly text: string; readonly evidence: SuspectEvidence };
  /** When the corrective action was taken that the reading belongs to. */
  readonly acted?: string | undefined;
}

/** The greatest count that the field for jars accepts. */
const mostJars = 1_000_000;

/** Every jar of a pack; for one being filled, every jar it may get. */
export const wholePack = (jars: number | null): JarSpan[] => [{ from: 1, to: jars ?? mostJars }];

/** Limits in the units of the readings: 82 °C is never printed as 179.6 °F. */
export function inUnits(
  limits: Readonly<Record<Temperature['unit'], number>>,
  units: ReadonlySet<Temperature['unit']>,
): string {
  return (['F', 'C'] as const)
    .filter((unit) => units.has(unit))
    .map((unit) => `${limits[unit]} °${unit}`)
    .join(' or ');
}

/** One finding for all readings that break a rule, coldest first. */
export function holdFinding(rule: FillRule, holds: readonly FillHold[], jarsMade: number | null): Finding[] {
  if (holds.length === 0) return [];
  const coldestFirst = [...holds].sort((a, b) => a.reading.celsius - b.reading.celsius);
  const named = coldestFirst
    .slice(0, 5)
    .map(({ reading, readingCount, suspect }) =>
      [readingInText(reading, readingCount), ...(suspect ? [suspect.text] : [])].join(', '),
    );
  const more = holds.length > named.length ? `; and ${holds.length - named.length} more` : '';
  const spans = mergedSpans(holds.flatMap(({ jars }) => jars ?? wholePack(jarsMade)));
  const some = jarsMade === null || holdsAll(spans, wholePack(jarsMade)) ? undefined : spans;
  return [
    findingOf(rule, {
      limit: limitOf(rule, new Set(holds.map(({ reading }) => reading.unit))),
      found: named.join('; ') + more,
      ...(some ? { jars: some } : {}),
      wayOut: wayOut(rule, some, holds, jarsMade),
      identity: { evidence: { readings: coldestFirst.map(evidenceOf) }, jars: spans },
    }),
  ];
}

/** What a reading shows, for a release that accepts it; every reading counts, also those that the sentence leaves out. */
function evidenceOf({ reading, readingCount, suspect, acted }: FillHold): ReadingEvidence {
  const { fill, index, unit, degrees, by } = reading;
  return {
    read: degreesTyped(fill.temperature),
    nth: index + 1,
    readings: readingCount,
    at: fill.clock,
    jars: fill.jars,
    acted,
    thermometer: by?.thermometer.id,
    ...(by?.isAssumed ? { isAssumed: true } : {}),
    correction: hundredthsInUnit(by?.offsetC ?? 0, unit),
    corrected: Number(rounded(degrees, 2)),
    suspect: suspect?.evidence,
  };
}

/**
 * A finding for jars of a finished pack that no reading covers: none was taken, or they were poured back and not read
 * again.
 */
export function notReadAgain(spans: readonly JarSpan[], jarsMade: number | null, isNever: boolean): Finding {
  const some = jarsMade === null || holdsAll(spans, wholePack(jarsMade)) ? undefined : spans;
  return findingOf('fill-not-read', {
    limit: 'at least one temperature read in the jar when it was capped',
    found: isNever
      ? 'no fill reading'
      : `${some ? formatSpans(some) : 'all jars'} poured back and filled again, and no jar read after that`,
    ...(some ? { jars: some } : {}),
    wayOut: isNever
      ? `Record the readings if they were taken; else ${packedAgain(some)}.`
      : `Record the reading taken after it, with its jar; else ${packedAgain(some)}.`,
  });
}

function limitOf(rule: FillRule, units: ReadonlySet<Temperature['unit']>): string {
  const limit = `${inUnits(coldestInJar, units)} or more in the jar when capped`;
  if (rule === 'fill-temperature') return limit;
  return rule === 'fill-perhaps-hot-enough'
    ? `${limit} as read, without a correction upwards`
    : `${limit}, by a thermometer that passed its checks`;
}

function wayOut(
  rule: FillRule,
  jars: readonly JarSpan[] | undefined,
  holds: readonly FillHold[],
  jarsMade: number | null,
): string {
  const elevation = holds.find((hold) => restsOnElevation(hold))?.reading.by?.thermometer.id;
  const again = elevation
    ? `Check ${elevation} again in boiling water with today’s pressure: elevation alone ignores the weather. Else `
    : '';
  const pour = jarsMade === null ? whatToPourBack(holds) : packedAgain(jars);
  if (rule === 'fill-temperature') return capital(`${again}${pour}.`);
  return capital(`${again}${again ? 'a' : 'A'} maker releases it with the reason; or ${pour}.`);
}

/** Whether it is judged by the boiling point for the elevation alone, which the day's pressure may prove wrong. */
const restsOnElevation = ({ reading }: FillHold): boolean =>
  checksThatCount(reading.by?.thermometer.checks ?? []).some(
    (each) => each.shouldFrom === 'elevation' && (offsetOf(each) ?? 0) < 0,
  );

const whatToPourBack = (holds: readonly FillHold[]): string =>
  `pour back ${holds.map(({ reading }) => reading.fill.jars ?? 'the jars since the last reading').join(', ')} while the syrup is hot, fill again and say so on the reading`;

/** About three minutes per jar to open, pour and fill again: common practice, no source. */
function packedAgain(jars: readonly JarSpan[] | undefined): string {
  if (!jars) return 'pour all of it back and pack it again hot, with readings that name their jars';
  const minutes = Math.max(10, Math.ceil((jarsIn(jars) * 3) / 5) * 5);
  return `pour back ${formatSpans(jars)} (about ${minutes} min), or pack them again hot with readings that name their jars`;
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
