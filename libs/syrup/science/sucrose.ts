/**
 * Density of sucrose solutions, kg/m³, 0–100 °C.
 * Source (read through two independent public listings): Bubník, Kadlec, Urban, Bruhns, Sugar
 * Technologists Manual, Bartens 1995, p. 164; the same family is published by ICUMSA as SPS-4.
 */
export const sucroseSource =
  'sucrose density formula of Bubník, Kadlec, Urban, Bruhns, Sugar Technologists Manual, Bartens 1995, p. 164 (family of ICUMSA SPS-4)';

/** `coefficients[j][i]` multiplies w^(i+1)·θ^j; w = °Bx/100, θ = (t − 20)/100. */
export const sucroseCoefficients: readonly (readonly number[])[] = [
  [385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.289],
  [-46.272, -7.172, 1.1597, 5.1126, 17.5254],
  [59.7712, 7.2491, 12.363, -35.4791],
  [-47.2207, -21.6977, 27.6301],
  [18.3184, 12.3081],
];

/** Density in kg/m³ by the published formula. It is valid for 0–100 °C; density.ts handles what is outside. */
export function sucroseDensity(brix: number, celsius: number): number {
  return densityAlong(brix / 100, curveAt(celsius));
}

/** Water, kg/m³ (Kell's form, read beside the above). */
export function waterDensity(t: number): number {
  const above =
    999.83952 + t * (16.952577 + t * (-7.9905127e-3 + t * (-46.241757e-6 + t * (105.84601e-9 + t * -281.03006e-12))));
  return above / (1 + 16.887236e-3 * t);
}

/**
 * The °Bx that has this density at this temperature; below 0 for what is lighter than water. Newton's method: the curve
 * is smooth and rising, each step doubles the digits, so after one that changes w by less than 1e-7 nothing is left to
 * gain.
 */
export function brixFromDensity(kgPerM3: number, celsius: number): number {
  const curve = curveAt(celsius);
  let w = Math.min(0.95, Math.max(0, (kgPerM3 - curve.water) / 480));
  const { c1, c2, c3, c4, c5, c6 } = curve;
  for (let step = 0; step < 12; step++) {
    const density = densityAlong(w, curve);
    const slope = c1 + w * (2 * c2 + w * (3 * c3 + w * (4 * c4 + w * (5 * c5 + w * 6 * c6))));
    const change = (kgPerM3 - density) / slope;
    w += change;
    if (Math.abs(change) < 1e-7) break;
  }
  return w * 100;
}

interface Curve {
  readonly water: number;
  readonly c1: number;
  readonly c2: number;
  readonly c3: number;
  readonly c4: number;
  readonly c5: number;
  readonly c6: number;
}

const flat = sucroseCoefficients.map((row) => [...row, 0, 0, 0, 0, 0, 0].slice(0, 6));
const column = (i: number): readonly number[] => flat.map((row) => row[i] ?? 0);
const columns = [0, 1, 2, 3, 4, 5].map(column);
const alongTheta = (i: number, theta: number): number => {
  const c = columns[i] as readonly [number, number, number, number, number];
  return c[0] + theta * (c[1] + theta * (c[2] + theta * (c[3] + theta * c[4])));
};

/** Cached: 20 °C and 60 °F are needed in every correction. */
function curveAt(celsius: number): Curve {
  return celsius === 20 ? at20Celsius : celsius === sixtyFahrenheit ? at60Fahrenheit : calculateCurve(celsius);
}

function calculateCurve(celsius: number): Curve {
  const theta = (celsius - 20) / 100;
  return {
    water: waterDensity(celsius),
    c1: alongTheta(0, theta),
    c2: alongTheta(1, theta),
    c3: alongTheta(2, theta),
    c4: alongTheta(3, theta),
    c5: alongTheta(4, theta),
    c6: alongTheta(5, theta),
  };
}

function densityAlong(w: number, c: Curve): number {
  return c.water + w * (c.c1 + w * (c.c2 + w * (c.c3 + w * (c.c4 + w * (c.c5 + w * c.c6)))));
}

const sixtyFahrenheit = ((60 - 32) * 5) / 9;
const at20Celsius = calculateCurve(20);
const at60Fahrenheit = calculateCurve(sixtyFahrenheit);
