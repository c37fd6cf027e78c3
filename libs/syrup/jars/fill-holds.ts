import { validChecks, offsetCelsius } from '../instruments/instrument-checks.js';
import { type JarSpan, mergeSpans, formatSpans, coversSpans, jarsInSpans } from './jar-spans.js';
import type { ReadingEvidence, SuspectEvidence } from '../rules/finding-evidence.js';
import { coldestInJar, roundedOffset, type JudgedReading, formatReadingInFinding } from '../rules/judge-reading.js';
import { temperatureAsTyped, formatRounded } from '../quantities/format-quantities.js';
import type { Temperature } from '../quantities/quantities.js';
import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';

type FillRule = 'fill-temperature' | 'fill-perhaps-hot-enough' | 'thermometer-unreliable';

/** A reading that holds jars: those named, or the whole pack. */
export interface FillHold {
  readonly rule: FillRule;
  readonly reading: JudgedReading;
  /** How many readings the list has. */
  readonly readingCount: number;
  readonly jars: readonly JarSpan[] | undefined;
  readonly suspect?: { readonly text: string; readonly evidence: SuspectEvidence };
  /** When the corrective action that the reading belongs to was taken. */
  readonly acted?: string | undefined;
}

/** The greatest count that the field for jars accepts. */
const maxJars = 1_000_000;

/** Every jar of a pack; while it is being filled (null), every jar number that is possible. */
export const wholePack = (jars: number | null): JarSpan[] => [{ from: 1, to: jars ?? maxJars }];

/** Formats a limit in the units of the readings, `180 °F or 82 °C`; it is never converted. */
export function formatLimits(
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
      [formatReadingInFinding(reading, readingCount), ...(suspect ? [suspect.text] : [])].join(', '),
    );
  const perhapsAdjusted = suspectPair(coldestFirst);
  const more = holds.length > named.length ? `; and ${holds.length - named.length} more` : '';
  const spans = mergeSpans(holds.flatMap(({ jars }) => jars ?? wholePack(jarsMade)));
  const partOfPack = jarsMade === null || coversSpans(spans, wholePack(jarsMade)) ? undefined : spans;
  return [
    findingOf(rule, {
      limit: limitOf(rule, new Set(holds.map(({ reading }) => reading.unit))),
      found: named.join('; ') + more,
      ...(partOfPack ? { jars: partOfPack } : {}),
      wayOut: wayOut(rule, partOfPack, holds, jarsMade),
      ...(perhapsAdjusted ? { about: `check/${perhapsAdjusted.check}` } : {}),
      identity: { evidence: { readings: coldestFirst.map(evidenceOf) }, jars: spans },
    }),
  ];
}

/** The evidence of a reading, as a release stores it. */
function evidenceOf({ reading, readingCount, suspect, acted }: FillHold): ReadingEvidence {
  const { fill, index, unit, degrees, by } = reading;
  return {
    read: temperatureAsTyped(fill.temperature),
    nth: index + 1,
    readings: readingCount,
    at: fill.clock,
    jars: fill.jars,
    acted,
    thermometer: by?.thermometer.id,
    ...(by?.isAssumed ? { isAssumed: true } : {}),
    correction: roundedOffset(by?.offsetC ?? 0, unit),
    corrected: Number(formatRounded(degrees, 2)),
    suspect: suspect?.evidence,
  };
}

/**
 * A finding for jars of a finished pack that no reading covers: none was taken, all of them name jars that the pack
 * doesn’t have, or the jars were poured back and not read again.
 */
export function notReadFinding(
  spans: readonly JarSpan[],
  jarsMade: number | null,
  why: 'never' | 'beyond' | 'not-again',
): Finding {
  const partOfPack = jarsMade === null || coversSpans(spans, wholePack(jarsMade)) ? undefined : spans;
  const again = packAgainText(partOfPack);
  const { found, wayOut } = {
    never: { found: 'no fill reading', wayOut: `Record the readings if they were taken; else ${again}.` },
    beyond: {
      found: `every fill reading names a jar that the pack of ${jarsMade} doesn’t have`,
      wayOut: `Correct the jar numbers of the readings or the number of jars; else ${again}.`,
    },
    'not-again': {
      found: `${partOfPack ? formatSpans(partOfPack) : 'all jars'} poured back and filled again, and no jar read after that`,
      wayOut: `Record the reading taken after it, with its jar; else ${again}.`,
    },
  }[why];
  return findingOf('fill-not-read', {
    limit: 'at least one temperature read in the jar when it was capped',
    found,
    ...(partOfPack ? { jars: partOfPack } : {}),
    wayOut,
  });
}

function limitOf(rule: FillRule, units: ReadonlySet<Temperature['unit']>): string {
  const limit = `${formatLimits(coldestInJar, units)} or more in the jar when capped`;
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
  const pair = suspectPair(holds);
  const asked = pair ? `If ${pair.id} was adjusted after check ${pair.check}, correct that check to say so. ` : '';
  const pour = jarsMade === null ? pourBackText(holds) : packAgainText(jars);
  if (rule === 'fill-temperature') return capitalize(`${again}${pour}.`);
  return capitalize(`${asked}${again}${again ? 'a' : 'A'} maker releases it with the reason; or ${pour}.`);
}

/** The thermometer and first check of two that disagree: an adjustment after it explains them, recorded or not. */
function suspectPair(holds: readonly FillHold[]): { readonly id: string; readonly check: string } | undefined {
  const found = holds.find(({ suspect }) => suspect?.evidence.because === 'erratic');
  const [id, first] = [found?.reading.by?.thermometer.id, found?.suspect?.evidence.checks[0]];
  return id !== undefined && first ? { id, check: first.check } : undefined;
}

/** Whether the reading's thermometer was checked against the boiling point for the elevation alone. */
const restsOnElevation = ({ reading }: FillHold): boolean =>
  validChecks(reading.by?.thermometer.checks ?? []).some(
    (each) => each.shouldFrom === 'elevation' && (offsetCelsius(each) ?? 0) < 0,
  );

const pourBackText = (holds: readonly FillHold[]): string =>
  `pour back ${holds.map(({ reading }) => reading.fill.jars ?? 'the jars since the last reading').join(', ')} while the syrup is hot, fill again and say so on the reading`;

/** About three minutes per jar to open, pour and fill again: common practice, no source. */
function packAgainText(jars: readonly JarSpan[] | undefined): string {
  if (!jars) return 'pour all of it back and pack it again hot, with readings that name their jars';
  const minutes = Math.max(10, Math.ceil((jarsInSpans(jars) * 3) / 5) * 5);
  return `pour back ${formatSpans(jars)} (about ${minutes} min), or pack them again hot with readings that name their jars`;
}

const capitalize = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
