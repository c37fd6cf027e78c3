/**
 * Judging a sample of jars against its label in Canada: Safe Food for Canadians Regulations s. 200 with Schedule 4
 * table 3 (tolerances of metric mass or volume) and Schedule 5 (samples), read as amended 2025-09-19. All millilitres
 * at 20 °C (s. 200(5)).
 */
export const canadianLotSource =
  'Safe Food for Canadians Regulations s. 200, Schedules 4 and 5 (read in the source, 2026-07-23)';

/** How far one jar may be below its label; piecewise and continuous. */
export function toleranceMl(labelMl: number): number {
  const step = tolerances.find(({ upTo }) => labelMl <= upTo + 1e-9)!;
  return step.percent === undefined ? step.millilitres : (labelMl * step.percent) / 100;
}

const tolerances: readonly (
  | { readonly upTo: number; readonly percent: number }
  | { readonly upTo: number; readonly millilitres: number; readonly percent?: undefined }
)[] = [
  { upTo: 50, percent: 9 },
  { upTo: 100, millilitres: 4.5 },
  { upTo: 200, percent: 4.5 },
  { upTo: 300, millilitres: 9 },
  { upTo: 500, percent: 3 },
  { upTo: 1000, millilitres: 15 },
  { upTo: 10_000, percent: 1.5 },
  { upTo: 15_000, millilitres: 150 },
  { upTo: Infinity, percent: 1 },
];

/** The least number of jars to weigh in a lot. A lot of one is that one (from memory: the schedule begins at two). */
export function leastSample(lot: number): number {
  if (lot <= 10) return lot;
  if (lot <= 128) return Math.max(10, Math.ceil(lot / 4));
  return sampleSizes.find(({ upTo }) => lot <= upTo)!.jars;
}

const sampleSizes = [
  { upTo: 4000, jars: 32 },
  { upTo: 8000, jars: 64 },
  { upTo: 12_000, jars: 96 },
  { upTo: Infinity, jars: 125 },
];

/** How many jars short by more than the tolerance fail a lot, by sample size; undefined above 125, where the schedule ends. */
export const failingCount = (sample: number): number | undefined =>
  failureLimits.find(({ upTo }) => sample <= upTo)?.jars;

const failureLimits = [
  { upTo: 8, jars: 1 },
  { upTo: 20, jars: 2 },
  { upTo: 32, jars: 3 },
  { upTo: 50, jars: 4 },
  { upTo: 65, jars: 5 },
  { upTo: 80, jars: 6 },
  { upTo: 102, jars: 7 },
  { upTo: 125, jars: 8 },
];

export interface CanadianLot {
  readonly toleranceMl: number;
  /** Mean + s·t/√n; null for one jar, which has no standard deviation. */
  readonly correctedAverageMl: number | null;
  readonly shortByMore: number;
  readonly shortByTwice: number;
  readonly failsAt: number | null;
  /** How it falls short of its label, in the order of s. 200(4); empty where it meets it. */
  readonly failures: readonly ('average' | 'tolerance' | 'twice')[];
}

/** Judges a sample of net contents, in millilitres, by the Canadian lot rules. */
export function canadianLot(netMl: readonly number[], labelMl: number): CanadianLot {
  const n = netMl.length;
  const mean = netMl.reduce((sum, each) => sum + each, 0) / n;
  const spread = Math.sqrt(netMl.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (n - 1));
  const correctedAverageMl = n > 1 ? mean + spread * correction(n) : null;
  const tolerance = toleranceMl(labelMl);
  const under = (least: number): number => netMl.filter((each) => each < least - 1e-9).length;
  const shortByMore = under(labelMl - tolerance);
  const shortByTwice = under(labelMl - 2 * tolerance);
  const failsAt = failingCount(n) ?? null;
  const failures = [
    ...((correctedAverageMl ?? mean) < labelMl - 1e-9 ? (['average'] as const) : []),
    ...(failsAt !== null && shortByMore >= failsAt ? (['tolerance'] as const) : []),
    ...(shortByTwice >= 2 ? (['twice'] as const) : []),
  ];
  return { toleranceMl: tolerance, correctedAverageMl, shortByMore, shortByTwice, failsAt, failures };
}

/**
 * t/√n of Schedule 5 as printed, where we know the figure for that size; else calculated, t of 99.5 % with n − 1
 * degrees of freedom.
 */
export const correction = (n: number): number => printedCorrections[n] ?? calculatedCorrection(n);

/** Within 0.001 of every printed figure from three jars up. */
export const calculatedCorrection = (n: number): number => tQuantile(0.995, n - 1) / Math.sqrt(n);

const printedCorrections: Readonly<Record<number, number>> = {
  ...{ 2: 45.01, 3: 5.73, 4: 2.92, 5: 2.06, 6: 1.65, 7: 1.4, 8: 1.24, 9: 1.12, 10: 1.03, 11: 0.955, 12: 0.897 },
  ...{ 13: 0.847, 14: 0.805, 15: 0.769, 16: 0.737, 20: 0.64, 24: 0.573, 25: 0.559, 30: 0.503, 32: 0.485 },
  ...{ 64: 0.332, 96: 0.269, 125: 0.234 },
};

function tQuantile(probability: number, degrees: number): number {
  let [low, high] = [0, 1000];
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (tProbability(middle, degrees) < probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/**
 * Student's distribution by its finite sums for integer degrees of freedom (Abramowitz and Stegun 26.7.3–4, from
 * memory).
 */
function tProbability(t: number, degrees: number): number {
  const angle = Math.atan(t / Math.sqrt(degrees));
  const cosine = Math.cos(angle);
  const odd = degrees % 2 === 1;
  let term = odd ? cosine : 1;
  let sum = 0;
  for (let k = odd ? 2 : 1; k <= degrees - 1; k += 2) {
    sum += term;
    term *= (cosine * cosine * k) / (k + 1);
  }
  const inside = odd ? (2 / Math.PI) * (angle + (degrees > 1 ? Math.sin(angle) * sum : 0)) : Math.sin(angle) * sum;
  return 0.5 + inside / 2;
}
