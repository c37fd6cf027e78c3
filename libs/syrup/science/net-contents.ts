import { gramsIn } from '../quantities/units.js';
import { sucroseDensity } from './sucrose.js';

export const netContentsSource =
  'net contents are judged at 68 °F / 20 °C: 6 V.S.A. §494(c); NBS model regulation; in Canada at 20 °C, SFCR s. 200(5) (read in the source, 2026)';
export const airSource =
  'weight in air: air 1.2 kg/m³, scale set with weights of 8000 kg/m³ (OIML conventional mass, from memory)';

/** The weight of a jar's syrup at 20 °C: its mass, and the reading of a scale in air. */
export interface SyrupWeight {
  readonly grams: number;
  readonly gramsInAir: number;
  readonly poundsInAir: number;
}

/** The weight of a volume at 20 °C: in vacuum, and as a scale in air reads it. */
export function syrupWeight(millilitresAt20: number, brix: number): SyrupWeight {
  const density = sucroseDensity(brix, 20);
  const grams = (millilitresAt20 * density) / 1000;
  const gramsInAir = (grams * (1 - 1.2 / density)) / (1 - 1.2 / 8000);
  return { grams, gramsInAir, poundsInAir: gramsInAir / gramsIn.lb };
}

export interface Shrink {
  /** Percent of the hot volume. */
  readonly percent: number;
  readonly hotVolumePerCold: number;
}

/** By how much syrup shrinks in cooling, in percent of its hot volume. */
export function shrink(brix: number, hotCelsius: number, coldCelsius: number): Shrink {
  const hotVolumePerCold = sucroseDensity(brix, coldCelsius) / sucroseDensity(brix, hotCelsius);
  return { percent: (1 - 1 / hotVolumePerCold) * 100, hotVolumePerCold };
}

export interface WeighedJars {
  readonly jars: number;
  /** The least scale reading for the labelled volume of this lot's syrup. */
  readonly labelGramsInAir: number;
  readonly averageGrams: number;
  readonly lowestGrams: number;
  /** Standard deviation of the sample; null for a single jar. */
  readonly spreadGrams: number | null;
  readonly averageReachesLabel: boolean;
  readonly jarsUnderLabel: number;
  /** Null when no allowance was typed. */
  readonly jarsUnderAllowance: number | null;
}

/** Net weights in air, each without its jar. The maker gives the allowed shortage with its source: none is shipped. */
export function weighedJars(
  netGrams: readonly number[],
  labelMillilitres: number,
  brix: number,
  allowedShortageGrams?: number,
): WeighedJars {
  const label = syrupWeight(labelMillilitres, brix).gramsInAir;
  const average = netGrams.reduce((sum, grams) => sum + grams, 0) / netGrams.length;
  const squares = netGrams.reduce((sum, grams) => sum + (grams - average) ** 2, 0);
  const under = (least: number): number => netGrams.filter((grams) => grams < least - 1e-9).length;
  return {
    jars: netGrams.length,
    labelGramsInAir: label,
    averageGrams: average,
    lowestGrams: Math.min(...netGrams),
    spreadGrams: netGrams.length > 1 ? Math.sqrt(squares / (netGrams.length - 1)) : null,
    averageReachesLabel: average >= label - 1e-9,
    jarsUnderLabel: under(label),
    jarsUnderAllowance: allowedShortageGrams === undefined ? null : under(label - allowedShortageGrams),
  };
}
