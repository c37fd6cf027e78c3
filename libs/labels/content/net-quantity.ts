import { millilitresIn } from '#libs/syrup/quantities/units.js';
import { cylinderPanelMm2, netQuantityHeightMm } from '#libs/syrup/labelling/type-height.js';
import type { LabelContent } from './label.js';

/** The net quantity as printed on the label, in lines that may be set side by side or under each other. */
export interface NetQuantity {
  readonly lines: readonly string[];
  readonly source: string;
}

/**
 * US: fluid ounces, from a pint to a gallon with the largest whole units in brackets, and metric; gallons from a gallon
 * up (21 CFR 101.7(j), from memory and not verified; both systems by 15 U.S.C. 1453(a)(2), read). Canada: metric, mL
 * under 1 000 mL (SFCR ss. 232–235, read). A converted figure is cut to three digits, never rounded up: half a pint is
 * 236.588 mL, and 237 mL on the label would overstate the content.
 */
export function netQuantity(container: LabelContent['container'], country: 'US' | 'CA'): NetQuantity {
  const { millilitres } = container;
  const metric = metricText(container);
  if (country === 'CA')
    return {
      lines: [metric],
      source: 'metric units: Safe Food for Canadians Regulations ss. 232–235 (read in the source, 2026-07-23)',
    };
  const source =
    '21 CFR 101.7(a), (f), (i), (n) and 15 U.S.C. 1453(a)(2) (read in the source, 2026-09-12); the whole units in brackets, 101.7(j), from memory and not verified';
  if (millilitres >= millilitresIn.gal - 1e-6)
    return { lines: [`${figures(millilitres / millilitresIn.gal)} GAL`, `(${metric})`], source };
  const ounces = truncateFigure(millilitres / millilitresIn['fl oz']);
  if (ounces < 16) {
    const [first, second] = isMetric(container.unit) ? [metric, `${ounces} FL OZ`] : [`${ounces} FL OZ`, metric];
    return { lines: [first, `(${second})`], source };
  }
  return { lines: [`${ounces} FL OZ (${wholeUnits(ounces)})`, metric], source };
}

export interface MinNetHeight {
  readonly millimetres: number;
  readonly source: string;
  readonly panelSource: string;
}

/** The least height of the statement, and the panel size assumed for it. */
export function minNetHeight(content: LabelContent): MinNetHeight {
  const panel = content.panel;
  const areaMm2 = panel
    ? (panel.areaMm2 ?? cylinderPanelMm2(panel.heightMm, panel.diameterMm))
    : cylinderOfMm2(content.container.millilitres, 3);
  const { millimetres, source } = netQuantityHeightMm(areaMm2, content.country);
  const panelSource = panel
    ? 'panel as measured'
    : 'panel not measured: assumed to be a cylinder three times as high as wide, whose panel is larger than most (common practice, no source)';
  return { millimetres, source, panelSource };
}

/**
 * Lower heights that smaller panels permit, highest first, each with the largest panel it is enough for; none below
 * what the flattest container of this volume, half as high as wide (common practice, no source), needs.
 */
export function lowerNetHeights(
  content: LabelContent,
  belowMm: number,
): (MinNetHeight & { readonly upToCm2: number })[] {
  const flattestMm2 = cylinderOfMm2(content.container.millilitres, 0.5);
  return panelStepsCm2[content.country]
    .map((upToCm2) => ({
      ...netQuantityHeightMm(upToCm2 * 100 - 0.01, content.country),
      panelSource: `panel not measured: assumed to be at most ${upToCm2} cm²`,
      upToCm2,
    }))
    .filter(({ millimetres, upToCm2 }) => millimetres < belowMm - 1e-6 && upToCm2 * 100 >= flattestMm2);
}

/** Panel areas in cm² at which the required height changes: 400, 100, 25 and 5 in² in the US. */
const panelStepsCm2 = { US: [2580, 645, 161, 32], CA: [2580, 645, 258, 32] } as const;

/**
 * The panel of a cylinder with this ratio of height to width. Filled to the brim a jar holds about a tenth more than
 * its label says.
 */
function cylinderOfMm2(millilitres: number, heightPerWidth: number): number {
  const brimfulMm3 = millilitres * 1.1 * 1000;
  const diameterMm = Math.cbrt((4 * brimfulMm3) / (heightPerWidth * Math.PI));
  return cylinderPanelMm2(heightPerWidth * diameterMm, diameterMm);
}

function metricText({ unit, amount, millilitres }: LabelContent['container']): string {
  if (unit === 'L' && amount >= 1) return `${figures(amount)} L`;
  return millilitres >= 1000 - 1e-6 ? `${figures(millilitres / 1000)} L` : `${figures(millilitres)} mL`;
}

/** Quarts, pints and the ounces left over: 32 → 1 QT, 48 → 1 QT 1 PT, 16.9 → 1 PT 0.9 FL OZ. */
function wholeUnits(ounces: number): string {
  const quarts = Math.floor(ounces / 32);
  const pints = Math.floor((ounces - quarts * 32) / 16);
  const left = Math.round((ounces - quarts * 32 - pints * 16) * 100) / 100;
  return [quarts && `${quarts} QT`, pints && `${pints} PT`, left && `${left} FL OZ`].filter(Boolean).join(' ');
}

const isMetric = (unit: string): boolean => unit === 'mL' || unit === 'L';
const figures = (amount: number): string => String(truncateFigure(amount));

/** Cut to three digits; the tiny addition compensates for binary fractions, so that 8 fl oz stays 8. */
function truncateFigure(amount: number): number {
  const decimals = Math.max(0, 2 - Math.floor(Math.log10(amount)));
  const tens = 10 ** decimals;
  return Math.floor(amount * tens * (1 + 1e-9) + 1e-9) / tens;
}
