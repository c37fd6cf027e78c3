import { correctDensity } from '#libs/syrup/science/density.js';
import type { DensityMeasurement } from '#libs/syrup/science/density.js';
import { waterDensity } from '#libs/syrup/science/sucrose.js';

export const name = 'density: one corrected hydrometer reading, against the bare published polynomial evaluated once';

export interface DensityBench {
  readonly ratio: number;
  readonly goal: number;
  readonly microseconds: number;
  readonly lines: readonly string[];
}

/**
 * A correction needs the polynomial three times (at the mark, in the sample, at 20 °C) and, on the way back from
 * density to °Bx, about four times more with its slope: some 8 evaluations, so the goal is 8 times the floor, which
 * evaluates it once, nested and written out. The other goal is a time: under 5 µs, half a second for an import of
 * 100,000 rows. A run slower than that also reports a ratio above its goal.
 */
export async function run(): Promise<DensityBench> {
  const measured = samples();
  const rounds = Array.from({ length: 9 }, () => ({
    correction: microsecondsEach(() => measured.reduce((sum, each) => sum + brixOf(each), 0), measured.length),
    floor: microsecondsEach(
      () => measured.reduce((sum, each) => sum + barePolynomial(each.reading.reading, each.at?.celsius ?? 20), 0),
      measured.length,
    ),
  })).slice(2);
  const microseconds = middle(rounds.map((round) => round.correction));
  const floorMicroseconds = middle(rounds.map((round) => round.floor));
  const ratio = microseconds / floorMicroseconds;
  return {
    ratio: microseconds < goalMicroseconds ? ratio : Math.max(ratio, (goal * microseconds) / goalMicroseconds),
    goal,
    microseconds,
    lines: [
      `one correction ${microseconds.toFixed(2)} µs (goal under ${goalMicroseconds} µs)`,
      `bare polynomial ${floorMicroseconds.toFixed(2)} µs`,
    ],
  };
}

function brixOf(measured: DensityMeasurement): number {
  const answer = correctDensity(measured);
  return answer.because === undefined ? answer.brix : 0;
}

const goal = 8;
const goalMicroseconds = 5;

/** The published sum nested by Horner's rule and written out: the fastest bare form we know. */
function barePolynomial(brix: number, celsius: number): number {
  const w = brix / 100;
  const x = (celsius - 20) / 100;
  const row0 = w * (385.1761 + w * (135.3705 + w * (40.9299 + w * (-3.9643 + w * (13.4853 - w * 17.289)))));
  const row1 = w * (-46.272 + w * (-7.172 + w * (1.1597 + w * (5.1126 + w * 17.5254))));
  const row2 = w * (59.7712 + w * (7.2491 + w * (12.363 - w * 35.4791)));
  const row3 = w * (-47.2207 + w * (-21.6977 + w * 27.6301));
  const row4 = w * (18.3184 + w * 12.3081);
  return waterDensity(celsius) + row0 + x * (row1 + x * (row2 + x * (row3 + x * row4)));
}

function samples(): DensityMeasurement[] {
  return Array.from({ length: 20_000 }, (_, i) => {
    const [reading, degrees] = [55 + (i % 137) / 10, 35 + (i % 171)];
    return {
      reading: { typed: `${reading} Bx`, scale: 'Bx', reading },
      at: { typed: `${degrees} F`, unit: 'F', degrees, celsius: (degrees - 32) / 1.8 },
      by: 'hydrometer',
    };
  });
}

let survivors = 0;
function microsecondsEach(work: () => number, count: number): number {
  const start = performance.now();
  survivors += work();
  return ((performance.now() - start) * 1000) / count;
}

const middle = (values: number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? survivors;
