/** `1 entry`, `412 entries`. */
export const count = (entries: number): string => (entries === 1 ? '1 entry' : `${entries} entries`);
