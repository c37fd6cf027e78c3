/**
 * The units that people write, and their sizes. Keys are lower case without spaces, dots and degree signs, as
 * `quantities.ts` looks them up.
 */
export type VolumeUnit =
  | 'gal'
  | 'qt'
  | 'pt'
  | 'fl oz' // US customary
  | 'imp gal'
  | 'imp qt'
  | 'imp pt'
  | 'imp fl oz'
  | 'L'
  | 'mL';
export type TemperatureUnit = 'F' | 'C';
export type DensityScale = 'Bx' | 'Be' | 'SG';
export type MassUnit = 'g' | 'kg' | 'lb' | 'oz';

/** Exact by definition: the US gallon is 231 in³, the imperial gallon 4.54609 L (NIST Handbook 44, appendix C). */
export const millilitresIn: Readonly<Record<VolumeUnit, number>> = {
  gal: 3785.411784,
  qt: 946.352946,
  pt: 473.176473,
  'fl oz': 29.5735295625,
  'imp gal': 4546.09,
  'imp qt': 1136.5225,
  'imp pt': 568.26125,
  'imp fl oz': 28.4130625,
  L: 1000,
  mL: 1,
};

/** International avoirdupois pound: 453.59237 g exactly. */
export const gramsIn: Readonly<Record<MassUnit, number>> = { g: 1, kg: 1000, lb: 453.59237, oz: 28.349523125 };

export const temperatureUnits: Readonly<Record<string, TemperatureUnit>> = {
  f: 'F',
  degf: 'F',
  fahrenheit: 'F',
  c: 'C',
  degc: 'C',
  celsius: 'C',
};
export const volumeUnits: Readonly<Record<string, VolumeUnit>> = {
  gal: 'gal',
  gals: 'gal',
  gallon: 'gal',
  gallons: 'gal',
  qt: 'qt',
  qts: 'qt',
  quart: 'qt',
  quarts: 'qt',
  pt: 'pt',
  pts: 'pt',
  pint: 'pt',
  pints: 'pt',
  floz: 'fl oz',
  fluidounce: 'fl oz',
  fluidounces: 'fl oz',
  l: 'L',
  litre: 'L',
  litres: 'L',
  liter: 'L',
  liters: 'L',
  ml: 'mL',
  millilitre: 'mL',
  millilitres: 'mL',
  milliliter: 'mL',
  milliliters: 'mL',
};
export const markedVolumeUnits: Readonly<Record<string, VolumeUnit>> = {
  usgal: 'gal',
  usqt: 'qt',
  uspt: 'pt',
  usfloz: 'fl oz',
  galus: 'gal',
  qtus: 'qt',
  ptus: 'pt',
  flozus: 'fl oz',
  usgallon: 'gal',
  usgallons: 'gal',
  impgal: 'imp gal',
  impqt: 'imp qt',
  imppt: 'imp pt',
  impfloz: 'imp fl oz',
  galimp: 'imp gal',
  qtimp: 'imp qt',
  ptimp: 'imp pt',
  flozimp: 'imp fl oz',
  imperialgal: 'imp gal',
  imperialgallon: 'imp gal',
  imperialgallons: 'imp gal',
};
export const densityScales: Readonly<Record<string, DensityScale>> = {
  bx: 'Bx',
  brix: 'Bx',
  be: 'Be',
  bé: 'Be',
  baume: 'Be',
  baumé: 'Be',
  sg: 'SG',
};
export const scaleBounds: Readonly<Record<DensityScale, readonly [number, number]>> = {
  Bx: [0, 95],
  Be: [0, 55],
  SG: [0.9, 1.6],
};
/** inHg at 0 °C: 3.386389 kPa (NIST SP 811, appendix B). */
export const pressureUnits: Readonly<Record<string, number>> = {
  inhg: 3.386389,
  '"hg': 3.386389,
  kpa: 1,
  hpa: 0.1,
  mbar: 0.1,
  mb: 0.1,
  mmhg: 0.1333224,
};
export const lengthUnits: Readonly<Record<string, number>> = {
  mm: 1,
  cm: 10,
  m: 1000,
  in: 25.4,
  inch: 25.4,
  inches: 25.4,
  '"': 25.4,
  ft: 304.8,
  feet: 304.8,
};
export const massUnits: Readonly<Record<string, MassUnit>> = {
  g: 'g',
  gram: 'g',
  grams: 'g',
  kg: 'kg',
  lb: 'lb',
  lbs: 'lb',
  pound: 'lb',
  pounds: 'lb',
  oz: 'oz',
};
