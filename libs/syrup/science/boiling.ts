import { saturationKelvin, saturationMegapascals, waterBoilsAtKilopascals } from './steam.js';

export const boilingSource =
  'boiling-point rise: water activity of Starzak and Peacock (Q = −17638 J/mol, a = −1.0038, b = −0.24653; read in a ' +
  'public abstract), over IAPWS-IF97';

/** Rise of the boiling point above water at the same pressure, °C. For 0–85 °Bx. */
export function boilingRiseCelsius(brix: number, waterBoilsCelsius: number): number {
  const megapascals = waterBoilsAtKilopascals(waterBoilsCelsius) / 1000;
  const water = saturationKelvin(megapascals);
  let kelvin = water;
  // The activity hardly depends on temperature, so each step gains three digits.
  for (let step = 0; step < 12; step++) {
    const next = saturationKelvin(megapascals / waterActivity(brix, kelvin));
    if (Math.abs(next - kelvin) < 1e-10) return next - water;
    kelvin = next;
  }
  return kelvin - water;
}

/** °Bx of a liquid that boils at this temperature where water boils at that one; undefined outside 0–85 °Bx. */
export function brixFromBoiling(boilsCelsius: number, waterBoilsCelsius: number): number | undefined {
  const kelvin = boilsCelsius + 273.15;
  const activity = waterBoilsAtKilopascals(waterBoilsCelsius) / 1000 / saturationMegapascals(kelvin);
  let [thin, thick] = [0, 85];
  if (activity > 1 + 1e-12 || activity < waterActivity(thick, kelvin)) return undefined;
  for (let step = 0; step < 60; step++) {
    const middle = (thin + thick) / 2;
    if (waterActivity(middle, kelvin) > activity) thin = middle;
    else thick = middle;
  }
  return (thin + thick) / 2;
}

/** a_w = γ·x_water; ln γ = (Q/RT)(1 + a·x + b·x²)x², x the mole fraction of sucrose. */
export function waterActivity(brix: number, kelvin: number): number {
  const sucrose = brix / 342.2965;
  const x = sucrose / (sucrose + (100 - brix) / 18.01528);
  return (1 - x) * Math.exp((-17638 / (8.314462618 * kelvin)) * (1 - 1.0038 * x - 0.24653 * x * x) * x * x);
}
