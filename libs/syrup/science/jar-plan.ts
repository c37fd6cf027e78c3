export interface JarSize {
  readonly millilitres: number;
  /** At most this many; by default as many as the syrup fills. */
  readonly wanted?: number | undefined;
}
export interface PlannedJars {
  readonly millilitres: number;
  readonly jars: number;
  /** Including spares for chipped jars or failed seals. */
  readonly toBoil: number;
}
export interface JarPlan {
  readonly sizes: readonly PlannedJars[];
  readonly leftOverMillilitres: number;
}

/**
 * Sizes are filled in the order given, all volumes cold (20 °C). Spares: one in twenty, plus one (common practice, no
 * source).
 */
export function jarPlan(syrupMillilitres: number, sizes: readonly JarSize[]): JarPlan {
  let left = syrupMillilitres;
  const planned = sizes.map(({ millilitres, wanted }) => {
    // Tolerates rounding: 5 gal in quarts are 20.
    const fits = Math.floor(left / millilitres + 1e-9);
    const jars = Math.min(fits, wanted ?? fits);
    left = Math.max(0, left - jars * millilitres);
    return { millilitres, jars, toBoil: jars === 0 ? 0 : jars + Math.ceil(jars / 20) + 1 };
  });
  return { sizes: planned, leftOverMillilitres: left };
}

export const sparesSource = 'spares, one jar in twenty and one more: common practice, no source';
