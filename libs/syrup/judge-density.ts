import { type Corrected, type DensityInstrument, baume, correctDensity, usualCalibrationCelsius } from './density.js';
import { type DensityChart, type DensityLimit, type PlaceRules, chartReadingAt } from './places.js';
import type { DensityReading, Temperature } from './quantities.js';
import { findingOf } from './rules.js';
import { shown, shownDensity } from './shown.js';
import type { Finding } from './verdict.js';

export interface DensityFacts {
  readonly reading: DensityReading;
  readonly sampleAt?: Temperature | undefined;
  /** A hydrometer where it isn't said. */
  readonly by?: DensityInstrument | undefined;
  /** 60 °F where it isn't said. */
  readonly calibratedAt?: Temperature | undefined;
}

export interface JudgedDensity {
  readonly findings: readonly Finding[];
  /** True °Bx rounded to 0.1, as printed and as judged; null without a usable reading. */
  readonly brix: number | null;
  readonly brixUncertainty: number | null;
}

/**
 * Density against the place's least and greatest. Where the place has a chart and the reading is one that the
 * chart is of, the chart is the rule and the formula the cross-check; °Bé is judged against the place's °Bé.
 */
export function judgeDensity(facts: DensityFacts, place: PlaceRules): JudgedDensity {
  const corrected = correctDensity({
    reading: facts.reading,
    at: facts.sampleAt,
    by: instrumentOf(facts),
    calibratedAt: facts.calibratedAt,
  });
  if ('because' in corrected && corrected.because !== undefined)
    return { findings: [densityNotUsable(facts, corrected.because)], brix: null, brixUncertainty: null };
  const reading = { facts, corrected, place };
  const stops = [...tooThin(reading), ...tooThick(reading)];
  return {
    findings: stops.some((finding) => finding.stop) ? stops : [...stops, ...nearLimit(reading)],
    brix: roundedBrix(corrected.brix),
    brixUncertainty: roundedBrix(corrected.brixUncertainty),
  };
}

/** The stop of a finished pack without a density, or with one from before the last boil-up. */
export function densityNotRead(readBeforeLastBoilUp?: DensityReading): Finding {
  return findingOf('density-not-read', {
    limit: densityAsked,
    found: readBeforeLastBoilUp
      ? `${shownDensity(readBeforeLastBoilUp)}, read before the last boil-up: boiling thickens the syrup, so it says nothing of this pack`
      : 'no density reading',
  });
}

/** Half up, as printed. The millionth lifts 66.85 that arithmetic left a hair below itself. */
export const roundedBrix = (brix: number): number => Math.round(brix * 10 + 1e-6) / 10;

const densityAsked = 'a density reading taken since the last boil-up, with the temperature of the sample';

interface Reading {
  readonly facts: DensityFacts;
  readonly corrected: Corrected;
  readonly place: PlaceRules;
}

/** A reading beside a limit, in the scale it is judged in. */
interface Compared {
  /** How far above the limit, in that scale. */
  readonly above: number;
  readonly uncertainty: number;
  readonly limit: string;
  readonly found: string;
  readonly source: string;
}

function tooThin(reading: Reading): Finding[] {
  const { minimumBrix, standInMinimumBrix } = reading.place;
  const findings = [minimumBrix, ...(minimumBrix.gates || !standInMinimumBrix ? [] : [standInMinimumBrix])].flatMap(
    (limit) => {
      const compared = atLeast(reading, limit);
      return compared.above < 0 ? [outside('density-too-thin', compared, limit)] : [];
    },
  );
  const stop = findings.find((finding) => finding.stop);
  return stop ? [stop] : findings;
}

function tooThick(reading: Reading): Finding[] {
  const limit = reading.place.maximumBrix;
  if (!limit) return [];
  const compared = atMost(reading, limit);
  return compared.above > 0 ? [outside('density-too-thick', compared, limit)] : [];
}

function nearLimit(reading: Reading): Finding[] {
  const { minimumBrix, standInMinimumBrix, maximumBrix } = reading.place;
  const least = [minimumBrix, standInMinimumBrix].find((limit) => limit?.gates);
  const compared = [
    ...(least ? [atLeast(reading, least)] : []),
    ...(maximumBrix?.gates ? [atMost(reading, maximumBrix)] : []),
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

function outside(name: 'density-too-thin' | 'density-too-thick', { limit, found, source }: Compared, by: DensityLimit) {
  if (by.gates) return findingOf(name, { limit, found, source });
  return findingOf('density-unconfirmed-limit', {
    limit: `${limit}; this limit is ${by.mark === 'memory' ? 'from memory' : 'second hand'}: confirm it with the authority`,
    found,
    source,
  });
}

function atLeast(reading: Reading, limit: DensityLimit): Compared {
  const { facts, place } = reading;
  const chart = place.chart;
  const chartReading = chart?.standardBrix === limit.value ? chartReadingFor(facts, chart) : undefined;
  if (!chart || chartReading === undefined) return comparedTo(reading, limit, 'or more');
  const asked = `${tidy(chartReading)} °Bx or more on the float at ${sampleAt(facts)}`;
  return {
    above: steady(facts.reading.reading - chartReading),
    uncertainty: floatUncertainty,
    limit: `${asked}, by the chart for ${limit.value.toFixed(1)} °Bx`,
    found: `${asRead(facts)}, where the chart asks ${tidy(chartReading)}; by formula ${trueBrix(reading.corrected)}`,
    source: marked(chart),
  };
}

const atMost = (reading: Reading, limit: DensityLimit): Compared => comparedTo(reading, limit, 'or less');

/** °Bé against °Bé, all else as true °Bx; both rounded to 0.1 as printed. */
function comparedTo({ facts, corrected }: Reading, limit: DensityLimit, side: string): Compared {
  const { ownScale, brix, brixUncertainty } = corrected;
  if (ownScale.scale !== 'Be')
    return {
      above: steady(roundedBrix(brix) - limit.value),
      uncertainty: brixUncertainty,
      limit: `${limit.value.toFixed(1)} °Bx ${side}, true at 20 °C`,
      found: `${asRead(facts)}, which is ${trueBrix(corrected)}`,
      source: marked(limit),
    };
  const degrees = roundedBrix(ownScale.reading);
  return {
    above: steady(degrees - limit.baume),
    uncertainty: baume(brix + brixUncertainty) - baume(brix),
    limit: `${limit.baume.toFixed(1)} °Bé ${side} (${limit.value.toFixed(1)} °Bx), at the temperature the float was made for`,
    found: `${asRead(facts)}, which is ${degrees.toFixed(1)} °Bé there, ${trueBrix(corrected)}`,
    source: marked(limit),
  };
}

/** The chart is of Brix hydrometers made for its own temperature, within its rows; of nothing else. */
function chartReadingFor(facts: DensityFacts, chart: DensityChart) {
  const { reading, sampleAt, calibratedAt } = facts;
  if (instrumentOf(facts) !== 'hydrometer' || reading.scale !== 'Bx' || !sampleAt) return undefined;
  const chartCelsius = ((chart.calibratedAtFahrenheit - 32) * 5) / 9;
  const madeCelsius = calibratedAt?.celsius ?? usualCalibrationCelsius;
  // 15.6 °C is 60 °F as a float made for both prints it.
  return Math.abs(madeCelsius - chartCelsius) < 0.1 ? chartReadingAt(chart, sampleAt.celsius) : undefined;
}

/** ±0.2 °Bx of the float (Ohio State University Extension survey) and 1 °F of its thermometer at 0.053 °Bx, as squares. */
const floatUncertainty = Math.sqrt(0.2 ** 2 + 0.053 ** 2);

function densityNotUsable(facts: DensityFacts, because: string): Finding {
  return findingOf('density-not-read', { limit: densityAsked, found: `${asRead(facts)} can’t be used: ${because}` });
}

function asRead(facts: DensityFacts): string {
  const made =
    instrumentOf(facts) === 'hydrometer' && facts.calibratedAt ? `, a float made for ${shown(facts.calibratedAt)}` : '';
  const at = facts.sampleAt ? ` at ${shown(facts.sampleAt)}` : '';
  return `${shownDensity(facts.reading)}${at} by ${instrumentWords[instrumentOf(facts)]}${made}`;
}

const instrumentOf = ({ by }: DensityFacts): DensityInstrument => by ?? 'hydrometer';

const instrumentWords: Readonly<Record<DensityInstrument, string>> = {
  hydrometer: 'hydrometer',
  refractometer: 'refractometer',
  'refractometer-atc': 'compensating refractometer',
};

const sampleAt = (facts: DensityFacts): string => (facts.sampleAt ? shown(facts.sampleAt) : 'no known temperature');
const trueBrix = ({ brix, brixUncertainty }: Corrected): string =>
  `${roundedBrix(brix).toFixed(1)} ± ${Math.max(0.1, roundedBrix(brixUncertainty)).toFixed(1)} °Bx true`;
const marked = ({ source, mark }: { source: string; mark: string }): string => `${source} (${mark})`;
/** 60.4 stays 60.4, and between rows 60.15 isn't printed as a limit it isn't. */
const tidy = (brix: number): string => String(Number(brix.toFixed(2)));
/** 66.9 − 66.9 is nothing, whatever the last bit says. */
const steady = (difference: number): number => (Math.abs(difference) < 1e-9 ? 0 : difference);
