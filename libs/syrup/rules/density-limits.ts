import { type Corrected, type DensityInstrument, baume, usualCalibrationCelsius } from '../science/density.js';
import { madeFor68 } from '../instruments/hydrometer-temperature.js';
import { sourceText } from './provenance.js';
import {
  type ChartScale,
  type DensityChart,
  type DensityLimit,
  chartMinimum,
  coldestChartReading,
} from '../labelling/places.js';
import type { DensityReading, Temperature } from '../quantities/quantities.js';
import { formatTemperature, formatDensity } from '../quantities/format-quantities.js';

/** A density reading with what it takes to correct and judge it. */
export interface DensityFacts {
  readonly reading: DensityReading;
  readonly sampleAt?: Temperature | undefined;
  /** Absent where it wasn’t recorded: then it has to pass by every instrument (`possibleInstruments`). */
  readonly by?: DensityInstrument | undefined;
  /** The temperature printed on the hydrometer, as recorded with the reading. */
  readonly calibratedAt?: Temperature | undefined;
  /** The temperature that the sugarhouse answered for all its hydrometers. */
  readonly hydrometersMadeFor?: Temperature | undefined;
  /** The sample's corrected temperature, where the checks of its thermometer show that it reads high. */
  readonly correctedSample?: { readonly at: Temperature; readonly text: string } | undefined;
  /** Why the instrument is suspect: `H1, found wrong (check C7, 2026-03-22)`. */
  readonly whySuspect?: string | undefined;
}

/** A reading with its correction to 20 °C and the chart of its place. */
export interface CorrectedReading {
  readonly facts: DensityFacts;
  readonly corrected: Corrected;
  readonly chart: DensityChart | null;
}

/** A reading compared with a limit, in the scale it is judged in. */
export interface Compared {
  /** How far above the limit, in that scale. */
  readonly above: number;
  readonly uncertainty: number;
  readonly unit: '°Bx' | '°Bé';
  readonly limit: string;
  readonly found: string;
  readonly source: string;
  /** Judged by the chart of the place, which is a rule and not a measurement with an uncertainty of its own. */
  readonly byChart: boolean;
}

/**
 * Compares a reading with the least density: by the place's chart where it applies, otherwise by the formula; below the
 * chart's coldest row by both. None of these limits rises with the temperature, so a reading that passes at one sample
 * temperature passes at every hotter one.
 */
export function compareWithMinimum(reading: CorrectedReading, limit: DensityLimit): Compared {
  const byFormula = compareWithLimit(reading, limit, 'or more');
  const use = chartFor(reading, limit);
  if (!use) return byFormula;
  const required = chartMinimum(use.chart, use.celsius, use.scale);
  if (required !== undefined) {
    const byChart = compareWithChart(reading, limit, use, required);
    return use.chart.decides || byChart.above >= 0 ? byChart : byFormula;
  }
  const coldest = coldestChartReading(use.chart, use.scale);
  if (!use.chart.decides || byFormula.above < 0 || coldest === undefined) return byFormula;
  const byColdest = { ...compareWithChart(reading, limit, use, coldest), byChart: false };
  return byColdest.above < 0 ? { ...byColdest, limit: `${byColdest.limit}, whose coldest row that is` } : byFormula;
}

/** Compares a corrected reading with a greatest density, with its uncertainty. */
export const compareWithMaximum = (reading: CorrectedReading, limit: DensityLimit): Compared =>
  compareWithLimit(reading, limit, 'or less');

/** Compares in °Bé if the reading is in °Bé, otherwise in true °Bx; both rounded to 0.1 as printed. */
function compareWithLimit({ facts, corrected }: CorrectedReading, limit: DensityLimit, side: string): Compared {
  const { ownScale, brix, brixUncertainty } = corrected;
  if (ownScale.scale !== 'Be')
    return {
      above: withoutNoise(roundedBrix(brix) - limit.value),
      uncertainty: brixUncertainty,
      unit: '°Bx',
      limit: `${limit.value.toFixed(1)} °Bx ${side}, true at 20 °C`,
      found: `${formatReadDensity(facts)}, which is ${formatTrueBrix(corrected)}`,
      source: sourceText(limit),
      byChart: false,
    };
  const degrees = roundedBrix(ownScale.reading);
  return {
    above: withoutNoise(degrees - limit.baume),
    uncertainty: baume(brix + brixUncertainty) - baume(brix),
    unit: '°Bé',
    limit: `${limit.baume.toFixed(1)} °Bé ${side} (${limit.value.toFixed(1)} °Bx), at the temperature the hydrometer was made for`,
    found: `${formatReadDensity(facts)}, which is ${degrees.toFixed(1)} °Bé there, ${formatTrueBrix(corrected)}`,
    source: sourceText(limit),
    byChart: false,
  };
}

/** Whether the printed chart of the place is the rule for this reading. */
export function isDecidedByChart(reading: CorrectedReading, limit: DensityLimit): boolean {
  const use = chartFor(reading, limit);
  return use !== undefined && use.chart.decides && chartMinimum(use.chart, use.celsius, use.scale) !== undefined;
}

interface ChartUse {
  readonly chart: DensityChart;
  readonly celsius: number;
  readonly scale: ChartScale;
}

/**
 * A chart applies only to hydrometers of its own calibration temperature, in the scales it prints, and for its own
 * density.
 */
function chartFor({ facts, chart }: CorrectedReading, limit: DensityLimit): ChartUse | undefined {
  const { reading, sampleAt } = facts;
  if (!chart || chart.standardBrix !== limit.value || !sampleAt) return undefined;
  if (instrumentOf(facts) !== 'hydrometer' || reading.scale === 'SG') return undefined;
  if (coldestChartReading(chart, reading.scale) === undefined) return undefined;
  const chartCelsius = ((chart.calibratedAtFahrenheit - 32) * 5) / 9;
  const madeCelsius = calibrationTemperature(facts)?.celsius ?? usualCalibrationCelsius;
  // 15.6 °C is 60 °F, as printed on a hydrometer with both units.
  if (Math.abs(madeCelsius - chartCelsius) >= 0.1) return undefined;
  return { chart, celsius: sampleAt.celsius, scale: reading.scale };
}

function compareWithChart(
  { facts, corrected }: CorrectedReading,
  limit: DensityLimit,
  { chart, scale }: ChartUse,
  required: number,
): Compared {
  const unit = scale === 'Bx' ? '°Bx' : '°Bé';
  const inScale = scale === 'Bx' ? 1 : baume(limit.value) - baume(limit.value - 1);
  const density = scale === 'Bx' ? `${limit.value.toFixed(1)} °Bx` : `${limit.baume.toFixed(1)} °Bé`;
  return {
    above: withoutNoise(facts.reading.reading - required),
    uncertainty: hydrometerUncertainty * inScale,
    unit,
    limit: `${formatNumber(required)} ${unit} or more on the hydrometer at ${sampleAt(facts)}, by the chart for ${density}`,
    found: `${formatReadDensity(facts)}; the chart requires ${formatNumber(required)}; by formula ${formatTrueBrix(corrected)}`,
    source: sourceText(chart),
    byChart: true,
  };
}

/** Rounds half up, as printed. The added millionth corrects 66.85 stored slightly below itself. */
export const roundedBrix = (brix: number): number => Math.round(brix * 10 + 1e-6) / 10;

/** ±0.2 °Bx of the hydrometer (Ohio State University Extension survey) and 1 °F of its thermometer at 0.053 °Bx, as squares. */
const hydrometerUncertainty = Math.sqrt(0.2 ** 2 + 0.053 ** 2);

/** A density as read: number, sample temperature and instrument. */
export function formatReadDensity(facts: DensityFacts): string {
  const at = facts.sampleAt ? ` at ${formatTemperature(facts.sampleAt)}` : '';
  const by = facts.by
    ? `by ${formatInstrument(facts)}`
    : `(instrument not recorded, judged as by ${formatInstrument(facts)})`;
  return `${formatDensity(facts.reading)}${at} ${by}`;
}

/** `hydrometer, a hydrometer made for 68 °F`: the instrument of a density, as findings name it. */
export function formatInstrument(facts: DensityFacts): string {
  const { calibratedAt, hydrometersMadeFor } = facts;
  const ofHouse = hydrometersMadeFor?.celsius === madeFor68.celsius ? hydrometersMadeFor : undefined;
  const made =
    instrumentOf(facts) !== 'hydrometer'
      ? ''
      : calibratedAt
        ? `, a hydrometer made for ${formatTemperature(calibratedAt)}`
        : ofHouse
          ? `, made for ${formatTemperature(ofHouse)} as the sugarhouse recorded of its hydrometers`
          : '';
  return `${instrumentNames[instrumentOf(facts)]}${made}`;
}

/** The temperature a hydrometer is made for: that of the reading, else the sugarhouse's; undefined where neither is known. */
export const calibrationTemperature = ({ calibratedAt, hydrometersMadeFor }: DensityFacts): Temperature | undefined =>
  calibratedAt ?? hydrometersMadeFor;

/** The instrument of a density; a hydrometer where it wasn't recorded. */
export const instrumentOf = ({ by }: DensityFacts): DensityInstrument => by ?? 'hydrometer';

/**
 * What else may have read a density, where the record leaves it open: a hydrometer made for 68 °F besides one for 60
 * °F, which it is judged by first, the two in use (common practice, no source); where the instrument is not recorded
 * also a refractometer, which has no °Bé or specific gravity here.
 */
export function possibleInstruments(facts: DensityFacts): DensityFacts[] {
  const hydrometers =
    instrumentOf(facts) === 'hydrometer' && !calibrationTemperature(facts)
      ? [{ ...facts, by: 'hydrometer' as const, calibratedAt: madeFor68 }]
      : [];
  if (facts.by !== undefined || facts.reading.scale !== 'Bx') return hydrometers;
  return [...hydrometers, ...(['refractometer', 'refractometer-atc'] as const).map((by) => ({ ...facts, by }))];
}

const instrumentNames: Readonly<Record<DensityInstrument, string>> = {
  hydrometer: 'hydrometer',
  refractometer: 'refractometer',
  'refractometer-atc': 'compensating refractometer',
};

const sampleAt = (facts: DensityFacts): string =>
  facts.sampleAt ? formatTemperature(facts.sampleAt) : 'no known temperature';
const formatTrueBrix = ({ brix, brixUncertainty }: Corrected): string =>
  `${roundedBrix(brix).toFixed(1)} ± ${Math.max(0.1, roundedBrix(brixUncertainty)).toFixed(1)} °Bx true`;
/** 60.4 stays 60.4, and an interpolated 60.15 is printed with both decimals. */
const formatNumber = (reading: number): string => String(Number(reading.toFixed(2)));
/** Rounds away floating-point noise: 66.9 − 66.9 is 0. */
const withoutNoise = (difference: number): number => (Math.abs(difference) < 1e-9 ? 0 : difference);
