/**
 * Boiling water by pressure: IAPWS-IF97 region 4, both directions. Coefficients from memory, verified with the check
 * values of the release: T_s(0.1 MPa) = 372.755919 K, T_s(1) = 453.035632, T_s(10) = 584.149488; p_s(300 K) =
 * 0.353658941e-2 MPa, p_s(500) = 0.263889776e1, p_s(600) = 0.123443146e2 (tests/published).
 */
export const steamSource = 'boiling water by pressure: IAPWS-IF97 region 4 (proved by its published check values)';

/** Saturation temperature, K, from pressure, MPa. 611 Pa to 22.064 MPa. */
export function saturationKelvin(megapascals: number): number {
  const beta = megapascals ** 0.25;
  const e = beta * beta + n3 * beta + n6;
  const f = n1 * beta * beta + n4 * beta + n7;
  const g = n2 * beta * beta + n5 * beta + n8;
  const d = (2 * g) / (-f - Math.sqrt(f * f - 4 * e * g));
  return (n10 + d - Math.sqrt((n10 + d) ** 2 - 4 * (n9 + n10 * d))) / 2;
}

/** Saturation pressure, MPa, from temperature, K. 273.15 to 647.096 K. */
export function saturationMegapascals(kelvin: number): number {
  const theta = kelvin + n9 / (kelvin - n10);
  const a = theta * theta + n1 * theta + n2;
  const b = n3 * theta * theta + n4 * theta + n5;
  const c = n6 * theta * theta + n7 * theta + n8;
  return ((2 * c) / (-b + Math.sqrt(b * b - 4 * a * c))) ** 4;
}

/** The boiling point of water at a pressure in kPa, by the saturation line. */
export const waterBoilsCelsius = (kilopascals: number): number => saturationKelvin(kilopascals / 1000) - 273.15;
/** The pressure in kPa at which water boils at a temperature in °C. */
export const waterBoilsAtKilopascals = (celsius: number): number => saturationMegapascals(celsius + 273.15) * 1000;

export const atmosphereSource = 'pressure by elevation: ISO 2533 standard atmosphere (from memory)';

/**
 * The pressure of a standard day: 15 °C and 101.325 kPa at sea level, 6.5 K a kilometre. Weather changes it by a few
 * kPa.
 */
export const standardKilopascals = (metres: number): number =>
  101.325 * (1 - (0.0065 * metres) / 288.15) ** (9.80665 / (287.05287 * 0.0065));

const [n1, n2, n3, n4, n5, n6, n7, n8, n9, n10] = [
  0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.1202082470247e5, -0.32325550322333e7,
  0.1491510861353e2, -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849, 0.65017534844798e3,
];
