/** What was ticked, in words: `lids new, rims wiped`; null where nothing was. */
export const ticked = (names: readonly string[]): string | null =>
  names.length === 0 ? null : names.join(', ').replaceAll('-', ' ');
