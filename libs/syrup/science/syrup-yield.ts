import { sucroseDensity } from './sucrose.js';

export interface SyrupYield {
  readonly syrupMillilitres: number;
  /** Volumes of sap for one of syrup. */
  readonly sapPerSyrup: number;
  /** Water to boil away, kg. */
  readonly waterKilograms: number;
}

/** Every gram of sugar in the sap is in the syrup; both volumes at 20 °C. */
export function syrupYield(sapMillilitres: number, sapBrix: number, syrupBrix: number): SyrupYield {
  const sapSugar = sugarGramsPerMillilitre(sapBrix);
  const sapPerSyrup = sugarGramsPerMillilitre(syrupBrix) / sapSugar;
  const sapGrams = (sapMillilitres * sucroseDensity(sapBrix, 20)) / 1000;
  return {
    syrupMillilitres: sapMillilitres / sapPerSyrup,
    sapPerSyrup,
    waterKilograms: (sapGrams * (1 - sapBrix / syrupBrix)) / 1000,
  };
}

const sugarGramsPerMillilitre = (brix: number): number => (sucroseDensity(brix, 20) * brix) / 100_000;

/** Rule of 86: gallons of sap for one of syrup (read). */
export const ruleOf86 = (sapBrix: number): number => 86 / sapBrix;

/** Revised Jones rule, for syrup of 66.0 °Bx (read). */
export const revisedJonesRule = (sapBrix: number): number => 87.1 / sapBrix - 0.32;

export const yieldSources: readonly string[] = [
  'mass balance of sugar with the sucrose density formula (worked)',
  'Rule of 86 and revised Jones rule for syrup of 66.0 °Bx (read)',
];

/** About 22 gallons of syrup from a cord in a standard evaporator, from 2 % sap (read: Ohio State University Extension). */
export const usualGallonsPerCord = 22;
export const fuelSource =
  'about 400,000 BTU for a gallon of syrup from 2 % sap; about 22 gal of syrup from a cord in a standard evaporator: ' +
  'Ohio State University Extension (read)';
