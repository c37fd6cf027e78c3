import { sucroseDensity } from './sucrose.js';

/** Syrup by volume at 20 °C. */
export interface Portion {
  readonly millilitres: number;
  readonly brix: number;
}

/** Two portions together: sugar and mass add up, the volumes not exactly. */
export function blend(portions: readonly Portion[]): Portion & { readonly grams: number } {
  const grams = portions.reduce((sum, portion) => sum + gramsOf(portion), 0);
  const sugar = portions.reduce((sum, portion) => sum + (gramsOf(portion) * portion.brix) / 100, 0);
  const brix = grams === 0 ? 0 : (sugar / grams) * 100;
  return { grams, brix, millilitres: (grams / sucroseDensity(brix, 20)) * 1000 };
}

/** Too heavy: how much thinner liquid (0 °Bx is water) brings it to the target, which must be between the two. */
export function thinWith(
  heavy: Portion,
  targetBrix: number,
  thinnerBrix: number,
): Portion & { readonly grams: number } {
  const grams = (gramsOf(heavy) * (heavy.brix - targetBrix)) / (targetBrix - thinnerBrix);
  return { grams, brix: thinnerBrix, millilitres: (grams / sucroseDensity(thinnerBrix, 20)) * 1000 };
}

/** Too thin: the water still to boil away, and the syrup that remains. */
export function boilDown(thin: Portion, targetBrix: number): { readonly waterGrams: number; readonly left: Portion } {
  const sugar = (gramsOf(thin) * thin.brix) / 100;
  const leftGrams = (sugar / targetBrix) * 100;
  return {
    waterGrams: gramsOf(thin) - leftGrams,
    left: { brix: targetBrix, millilitres: (leftGrams / sucroseDensity(targetBrix, 20)) * 1000 },
  };
}

/** The mass of a volume of syrup at 20 °C, in grams. */
export const gramsOf = ({ millilitres, brix }: Portion): number => (millilitres * sucroseDensity(brix, 20)) / 1000;
