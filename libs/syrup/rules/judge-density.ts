import { correctDensity } from '../science/density.js';
import {
  formatInstrument,
  formatReadDensity,
  compareWithMinimum,
  compareWithMaximum,
  type Compared,
  type CorrectedReading,
  type DensityFacts,
  instrumentOf,
  isDecidedByChart,
  calibrationTemperature,
  possibleInstruments,
  roundedBrix,
} from './density-limits.js';
import type { DensityLimit, PlaceRules } from '../labelling/places.js';
import type { DensityReading } from '../quantities/quantities.js';
import { findingOf, type RuleName } from './rules.js';
import { formatTemperature, formatDensity } from '../quantities/format-quantities.js';
import type { Finding } from './verdict.js';

/** The findings and figures of a density reading. */
export interface JudgedDensity {
  readonly findings: readonly Finding[];
  /** True °Bx rounded to 0.1, as printed and as judged; null without a usable reading. */
  readonly brix: number | null;
  readonly brixUncertainty: number | null;
}

/**
 * Judges a density against the place's least and greatest. Where the place has a chart that applies to the reading, the
 * chart is the rule and the formula the cross-check; °Bé is judged against the place's °Bé. Where the instrument is not
 * recorded, or the temperature that its hydrometer is made for, the density has to pass by each that may have been used.
 * Where a printed chart of the place decides, an unrecorded hydrometer temperature is only an advisory.
 */
export function judgeDensity(facts: DensityFacts, place: PlaceRules): JudgedDensity {
  const judged = judgeAsRecorded(facts, place);
  if (judged.findings.some(({ stop }) => stop)) return judged;
  const failing = possibleInstruments(facts).find((each) =>
    judgeAsRecorded(each, place).findings.some(({ stop }) => stop),
  );
  if (!failing) return judged;
  const matters =
    facts.by === undefined
      ? unknownInstrument(facts, failing)
      : unknownCalibration(
          facts,
          failing,
          isOnChart(facts, place) ? 'hydrometer-not-recorded' : 'hydrometer-temperature',
        );
  return { ...judged, findings: [...judged.findings, matters] };
}

function isOnChart(facts: DensityFacts, place: PlaceRules): boolean {
  const { reading, sampleAt: at } = facts;
  const corrected = correctDensity({
    reading,
    at,
    by: instrumentOf(facts),
    calibratedAt: calibrationTemperature(facts),
  });
  return (
    corrected.because === undefined && isDecidedByChart({ facts, corrected, chart: place.chart }, place.minimumBrix)
  );
}

/** Judges the reading by the recorded instrument; by a hydrometer made for 60 °F where neither is recorded. */
function judgeAsRecorded(facts: DensityFacts, place: PlaceRules): JudgedDensity {
  const corrected = correctDensity({
    reading: facts.reading,
    at: facts.sampleAt,
    by: instrumentOf(facts),
    calibratedAt: calibrationTemperature(facts),
  });
  if ('because' in corrected && corrected.because !== undefined)
    return { findings: [densityNotUsable(facts, corrected.because)], brix: null, brixUncertainty: null };
  const reading = { facts, corrected, chart: place.chart };
  const findings = [...tooThin(reading, place), ...tooThick(reading, place)];
  const isHeld = findings.some((finding) => finding.stop);
  const whySuspect = facts.whySuspect ?? whySampleSuspect(facts, place);
  const more = isHeld
    ? []
    : whySuspect === undefined
      ? (coarseGravity(facts, place) ?? nearLimit(reading, place))
      : [suspectInstrument({ ...facts, whySuspect })];
  return {
    findings: [...findings, ...more],
    brix: roundedBrix(corrected.brix),
    brixUncertainty: roundedBrix(corrected.brixUncertainty),
  };
}

/** The hold of a finished pack without a density, or with one from before the last boil-up. */
export function densityNotRead(readBeforeLastBoilUp?: DensityReading): Finding {
  return findingOf('density-not-read', {
    limit: densityRequired,
    found: readBeforeLastBoilUp
      ? `${formatDensity(readBeforeLastBoilUp)}, read before the last boil-up: boiling thickens the syrup, so that reading doesn’t apply to this pack`
      : 'no density reading',
  });
}

/** A reading that passes by a hydrometer made for 60 °F, and fails by another instrument that may have been used. */
const unknownInstrument = (facts: DensityFacts, failing: DensityFacts): Finding =>
  findingOf('density-not-read', {
    limit: densityRequired,
    found: `${formatMeasured(facts)}, instrument not recorded: by ${formatInstrument(failing)} ${formatResultBy(failing)}`,
    wayOut: 'Record which instrument read it; or measure again with a hydrometer and a thermometer in the same cup.',
  });

/** A reading that passes by a hydrometer made for 60 °F, and fails by one made for 68 °F. */
const unknownCalibration = (
  facts: DensityFacts,
  failing: DensityFacts,
  rule: 'hydrometer-temperature' | 'hydrometer-not-recorded',
): Finding =>
  findingOf(rule, {
    limit:
      'a density that passes by the temperature printed on the hydrometer; where that is not recorded, by 60 °F and by 68 °F',
    found: `${formatMeasured(facts)} by hydrometer, and the temperature printed on it is not recorded: by one made for 68 °F ${formatResultBy(failing)}`,
  });

const formatMeasured = ({ reading, sampleAt }: DensityFacts): string =>
  `${formatDensity(reading)}${sampleAt ? ` at ${formatTemperature(sampleAt)}` : ''}`;

function formatResultBy(instrument: DensityFacts): string {
  const { reading, sampleAt } = instrument;
  const corrected = correctDensity({
    reading,
    at: sampleAt,
    by: instrumentOf(instrument),
    calibratedAt: calibrationTemperature(instrument),
  });
  return corrected.because === undefined
    ? `it is ${roundedBrix(corrected.brix).toFixed(1)} °Bx true`
    : 'it can’t be used';
}

const densityRequired = 'a density reading taken since the last boil-up, with the temperature of the sample';

function tooThin(reading: CorrectedReading, { minimumBrix, standInMinimumBrix }: PlaceRules): Finding[] {
  const limits = [minimumBrix, ...(minimumBrix.gates || !standInMinimumBrix ? [] : [standInMinimumBrix])];
  const findings = limits.flatMap((limit) => {
    const compared = compareWithMinimum(reading, limit);
    if (compared.above >= 0) return [];
    return [
      isWithinUncertainty(compared) ? measureAgain(compared, limit) : limitFinding('density-too-thin', compared, limit),
    ];
  });
  const stop = findings.find((finding) => finding.stop);
  return stop ? [stop] : findings;
}

/** Whether a reading is below the limit by less than its uncertainty; a chart applies as printed, without one. */
const isWithinUncertainty = ({ above, uncertainty, byChart }: Compared): boolean =>
  !byChart && -above <= uncertainty + 1e-9;

function measureAgain(compared: Compared, limit: DensityLimit): Finding {
  const short = `${Number((-compared.above).toFixed(2))} ${compared.unit}`;
  const within = `±${Math.max(0.1, roundedBrix(compared.uncertainty)).toFixed(1)} ${compared.unit}`;
  const found = `${compared.found}: ${short} short, within the uncertainty of the method (${within}): measure again`;
  return limitFinding('density-measure-again', { ...compared, found }, limit, howToMeasureAgain);
}

/** The finding for a passing reading by an instrument that a check around it found wrong. */
const suspectInstrument = (facts: DensityFacts): Finding =>
  findingOf('density-measure-again', {
    limit: 'a density read with an instrument that passed its checks',
    found: `${formatReadDensity(facts)}, read with ${facts.whySuspect ?? ''}: measure again`,
    source: 'common practice, no source',
    wayOut:
      'If another instrument read it, one thrown out since too, name the instrument that read it in the pack. Otherwise ' +
      'measure again with another instrument and record the reading as a corrective action; or check that one ' +
      'again, and correct the check where it was a slip. If it passes, release the lot; if not, boil it further and pack again.',
  });

/**
 * The finding for a specific gravity with two decimals or fewer that may be too thin: two decimals leave ±0.005, which
 * is 0.8 °Bx (calculated from the density formula). Undefined where its least value passes.
 */
function coarseGravity(facts: DensityFacts, place: PlaceRules): Finding[] | undefined {
  const { typed, scale, reading } = facts.reading;
  const decimals = /\d[.,](\d+)/u.exec(typed)?.[1]?.length ?? 0;
  if (scale !== 'SG' || decimals > 2) return undefined;
  const half = 0.5 * 10 ** -decimals;
  const least = { typed: `${(reading - half).toFixed(decimals + 1)} SG`, scale, reading: reading - half };
  if (!judgeDensity({ ...facts, reading: least }, place).findings.some(({ stop }) => stop)) return undefined;
  return [
    findingOf('density-measure-again', {
      limit: 'a specific gravity read to three decimals',
      found: `${formatReadDensity(facts)}, read to ${decimals} ${decimals === 1 ? 'decimal' : 'decimals'}: it may be ${least.typed}, which is too thin`,
      wayOut: howToMeasureAgain,
    }),
  ];
}

/** Why a reading may be too thin at the sample's corrected temperature; undefined where it passes there too. */
function whySampleSuspect({ correctedSample, ...facts }: DensityFacts, place: PlaceRules): string | undefined {
  if (!correctedSample) return undefined;
  const { findings } = judgeDensity({ ...facts, sampleAt: correctedSample.at }, place);
  return findings.some(({ stop, rule }) => stop && rule !== 'density-too-thick') ? correctedSample.text : undefined;
}

const howToMeasureAgain =
  'Measure again, about 5 min: a fresh sample near the temperature the instrument was made for, or another instrument, ' +
  'and record the reading as a corrective action. If it passes, release the lot; if not, boil it further and pack again.';

function tooThick(reading: CorrectedReading, { maximumBrix: limit }: PlaceRules): Finding[] {
  if (!limit) return [];
  const compared = compareWithMaximum(reading, limit);
  return compared.above > 0 ? [limitFinding('density-too-thick', compared, limit)] : [];
}

function nearLimit(reading: CorrectedReading, { minimumBrix, standInMinimumBrix, maximumBrix }: PlaceRules): Finding[] {
  const least = [minimumBrix, standInMinimumBrix].find((limit) => limit?.gates);
  const compared = [
    ...(least ? [compareWithMinimum(reading, least)] : []),
    ...(maximumBrix?.gates ? [compareWithMaximum(reading, maximumBrix)] : []),
  ];
  return compared
    .filter(({ above, uncertainty }) => Math.abs(above) < uncertainty - 1e-9)
    .map(({ limit, found, source }) =>
      findingOf('density-near-limit', {
        limit: `${limit}, by more than the instrument’s uncertainty`,
        found: `${found}: it passes within the uncertainty, measure again`,
        source,
      }),
    );
}

function limitFinding(
  name: RuleName & ('density-too-thin' | 'density-too-thick' | 'density-measure-again'),
  { limit, found, source }: Compared,
  by: DensityLimit,
  wayOut?: string,
): Finding {
  if (by.gates) return findingOf(name, { limit, found, source, wayOut });
  return findingOf('density-unconfirmed-limit', {
    limit: `${limit}; this limit is ${by.mark === 'memory' ? 'from memory' : 'from a secondary source'}: confirm it with the authority`,
    found,
    source,
  });
}

function densityNotUsable(facts: DensityFacts, because: string): Finding {
  return findingOf('density-not-read', {
    limit: densityRequired,
    found: `${formatReadDensity(facts)} can’t be used: ${because}`,
  });
}
