/**
 * Least height of the net-quantity statement by the area of the principal display panel. US: 21 CFR 101.7(i), quoted
 * from the code of 2026-09-12. Canada: Safe Food for Canadians Regulations s. 229 and Schedule 6, read as amended
 * 2025-09-19, the same steps for a grade name and a colour class (ss. 312, 325). A rule's text may have changed: ask
 * the authority.
 */
export interface TypeHeight {
  readonly millimetres: number;
  readonly inches: number;
  readonly source: string;
}

/** The least height of the net quantity for a panel's area in mm², by the country's steps. */
export function netQuantityHeightMm(panelAreaMm2: number, country: 'US' | 'CA'): TypeHeight {
  const millimetres = (country === 'US' ? stepsUs : stepsCanada).find(
    (step) => panelAreaMm2 <= step.upToMm2 + 1e-6,
  )!.millimetres;
  return { millimetres, inches: millimetres / 25.4, source: country === 'US' ? sourceUs : sourceCanada };
}

/** 40 % of height × circumference of a cylinder (read: 21 CFR 101.1). */
export const cylinderPanelMm2 = (heightMm: number, diameterMm: number): number => 0.4 * heightMm * Math.PI * diameterMm;

export const panelSource = 'principal display panel of a cylinder, 40 % of height × circumference: 21 CFR 101.1 (read)';
const sourceUs = 'least type height by panel area: 21 CFR 101.7(i) (read in the source, 2026-09-12)';
const sourceCanada =
  'least height of the numerals, bold, by panel area: Safe Food for Canadians Regulations ss. 229, 230, Schedule 6 (read in the source, 2026-07-23)';

const squareInchMm2 = 25.4 ** 2;
const stepsUs = [
  { upToMm2: 5 * squareInchMm2, millimetres: 25.4 / 16 },
  { upToMm2: 25 * squareInchMm2, millimetres: 25.4 / 8 },
  { upToMm2: 100 * squareInchMm2, millimetres: (25.4 * 3) / 16 },
  { upToMm2: 400 * squareInchMm2, millimetres: 25.4 / 4 },
  { upToMm2: Infinity, millimetres: 25.4 / 2 },
];
const stepsCanada = [
  { upToMm2: 3200, millimetres: 1.6 },
  { upToMm2: 25_800, millimetres: 3.2 },
  { upToMm2: 64_500, millimetres: 6.4 },
  { upToMm2: 258_000, millimetres: 9.5 },
  { upToMm2: Infinity, millimetres: 12.7 },
];
