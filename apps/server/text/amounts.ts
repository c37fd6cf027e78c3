/** The noun alone: `jar` for 1, `jars` for any other number. */
export const named = (n: number, noun: string, plural = `${noun}s`): string => (n === 1 ? noun : plural);

/** `1 jar`, `48 jars`. */
export const many = (n: number, noun: string, plural = `${noun}s`): string => `${n} ${named(n, noun, plural)}`;
