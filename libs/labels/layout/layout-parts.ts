import { cylinderPanelMm2 } from '#libs/syrup/labelling/type-height.js';
import type { LabelContent, Unfit } from '../content/label.js';
import type { Box } from '../content/framed-designs.js';
import { plainLook } from '../content/label-look.js';
import { practiceMark, type PracticeMark } from '../content/practice-mark.js';
import type { Stock } from '../stocks/stocks.js';
import type { SymbolChoice } from '../symbol/symbol.js';
import type { LabelJob } from './label-layout.js';

export interface TextJob extends LabelJob {
  /** PRACTICE is set as a line of the text, not across it. */
  readonly practiceAsLine?: boolean;
}

/** The parts of every layout that depend on the label alone. */
export const labelBasics = ({ stock, look = plainLook }: TextJob) => ({
  widthMm: stock.labelWidthMm,
  heightMm: stock.labelHeightMm,
  cornerMm: stock.cornerMm,
  isOval: stock.shape === 'oval',
  look,
});

/** PRACTICE across the text, where it has no place of its own. */
export const practiceAcross = ({ content, practiceAsLine }: TextJob, column: Box): PracticeMark | undefined =>
  content.practice && !practiceAsLine ? practiceMark(column) : undefined;

export const noRoomForLogo = 'Your drawing is left out: there is no room for it on this label';

/** 21 CFR 101.7(f): only a panel measured at 5 in² or less is exempt from the bottom 30 %. */
export function isExempt({ country, panel }: LabelContent): boolean {
  if (country !== 'US' || !panel) return false;
  const areaMm2 = panel.areaMm2 ?? cylinderPanelMm2(panel.heightMm, panel.diameterMm);
  return areaMm2 <= 5 * 25.4 ** 2 + 1e-6;
}

/** Why the net quantity does not fit: its least height, in mm, is set by law. */
export function netTooLarge(minMm: number): Unfit {
  return {
    item: 'Net quantity',
    because: `its letters must be ${minMm.toFixed(1)} mm high or more, in the bottom 30 % of the label: choose a larger label`,
  };
}

/** Which items don't fit at a readable height. */
export function tooMuch(items: readonly string[]): { unfit: Unfit[] } {
  const because = 'there is no room for it in letters large enough to read: shorten it or choose a larger label';
  if (items.length <= 3) return { unfit: items.map((item) => ({ item, because })) };
  return { unfit: [{ item: `The text as a whole (${items.join(', ').toLowerCase()})`, because }] };
}

/** What was assumed, in sentences. */
export function layoutNotes(
  net: { source: string; panelSource: string },
  choice: SymbolChoice,
  stock: Stock,
): string[] {
  return [
    `Net quantity: ${net.panelSource}; ${net.source}`,
    ...(choice.level === 'Q'
      ? []
      : [
          `The QR code has error correction level ${choice.level}: there is no room for level Q, which tolerates more dirt`,
        ]),
    ...(stock.roll
      ? ['Direct-thermal labels fade in light and heat: use thermal transfer for jars that are kept']
      : []),
    'Label the jars after they have cooled and their seals are checked',
    'Check the label against local rules before you use it',
  ];
}
