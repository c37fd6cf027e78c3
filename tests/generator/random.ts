/** Random numbers that are the same for the same seed, on every machine. */
export interface Random {
  /** A whole number from `from` to `to`, both included. */
  whole(from: number, to: number): number;
  /** True once in so many times. */
  oneIn(many: number): boolean;
  of<T>(choices: readonly T[]): T;
}

export function randomFrom(seed: number): Random {
  // mulberry32, a public-domain generator, from memory.
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const whole = (from: number, to: number): number => from + Math.floor(next() * (to - from + 1));
  return {
    whole,
    oneIn: (many) => whole(1, many) === 1,
    of: (choices) => choices[whole(0, choices.length - 1)]!,
  };
}
