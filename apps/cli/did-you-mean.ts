/** A suggestion for a mistyped name: the nearest one, where at most a third of its letters differ. */
export function nearest(typed: string, names: readonly string[]): string | undefined {
  const [best] = names
    .map((name) => ({ name, steps: stepsBetween(typed.toLowerCase(), name) }))
    .filter(({ name, steps }) => steps <= Math.max(1, Math.floor(name.length / 3)))
    .sort((a, b) => a.steps - b.steps);
  return best?.name;
}

/** The Damerau–Levenshtein distance: letters inserted, deleted, replaced or swapped with the next one. */
function stepsBetween(one: string, other: string): number {
  const rows = [Array.from({ length: other.length + 1 }, (_, n) => n)];
  const at = (i: number, j: number): number => rows[i]?.[j] ?? 0;
  for (let i = 1; i <= one.length; i++) {
    rows[i] = [i];
    for (let j = 1; j <= other.length; j++) {
      const same = one[i - 1] === other[j - 1];
      const swapped = i > 1 && j > 1 && one[i - 1] === other[j - 2] && one[i - 2] === other[j - 1];
      const steps = Math.min(at(i - 1, j) + 1, at(i, j - 1) + 1, at(i - 1, j - 1) + (same ? 0 : 1));
      (rows[i] ??= [])[j] = swapped ? Math.min(steps, at(i - 2, j - 2) + 1) : steps;
    }
  }
  return at(one.length, other.length);
}
