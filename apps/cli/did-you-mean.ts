/** A suggestion for a mistyped name: the nearest one, where at most a third of its letters differ. */
export function nearestName(typed: string, names: readonly string[]): string | undefined {
  const [best] = names
    .map((name) => ({ name, steps: editDistance(typed.toLowerCase(), name) }))
    .filter(({ name, steps }) => steps <= Math.max(1, Math.floor(name.length / 3)))
    .sort((a, b) => a.steps - b.steps);
  return best?.name;
}

/** The Damerau–Levenshtein distance: letters inserted, deleted, replaced or swapped with the next one. */
function editDistance(a: string, b: string): number {
  const rows = [Array.from({ length: b.length + 1 }, (_, n) => n)];
  const distance = (i: number, j: number): number => rows[i]?.[j] ?? 0;
  for (let i = 1; i <= a.length; i++) {
    rows[i] = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      const steps = Math.min(distance(i - 1, j) + 1, distance(i, j - 1) + 1, distance(i - 1, j - 1) + (same ? 0 : 1));
      (rows[i] ??= [])[j] = swapped ? Math.min(steps, distance(i - 2, j - 2) + 1) : steps;
    }
  }
  return distance(a.length, b.length);
}
