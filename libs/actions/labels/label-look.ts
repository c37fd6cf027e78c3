import type { HouseBody } from '#libs/records/kinds/house.js';
import type { DesignName } from '#libs/labels/content/label.js';
import { designLabels } from '#libs/labels/content/label.js';
import {
  type ColourName,
  labelColours,
  type LabelLook,
  type TypefaceName,
  typefaceLabels,
} from '#libs/labels/content/label-look.js';
import { type LabelRun, settingProblem } from '#libs/labels/drawing/label-run.js';
import { layoutRun } from '#libs/labels/layout/layout-run.js';
import type { Stock } from '#libs/labels/stocks/stocks.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { loadPrintableLogo } from './logo.js';

/**
 * How labels look: as requested, else as set for the sugarhouse, else plain and black; always with the sugarhouse's
 * drawing.
 */
export async function loadLabelLook(
  reader: SugarhouseReader,
  house: HouseBody | undefined,
  requested: { readonly typeface?: TypefaceName | undefined; readonly colour?: ColourName | undefined },
): Promise<LabelLook> {
  const logo = await loadPrintableLogo(reader);
  return {
    typeface: requested.typeface ?? knownKey(typefaceLabels, house?.labelTypeface) ?? 'plain',
    colour: requested.colour ?? knownKey(labelColours, house?.labelColour) ?? 'black',
    ...(logo ? { logo } : {}),
  };
}

/**
 * The requested layout, else the sugarhouse's, else the usual one for the container and label shape where its text
 * fits, else `ledger`, which holds most.
 */
export function chooseDesign(
  run: LabelRun,
  requested: DesignName | undefined,
  house: HouseBody | undefined,
): DesignName {
  const chosen = requested ?? knownKey(designLabels, house?.labelLayout);
  if (chosen) return chosen;
  if (settingProblem(run)) return 'ledger';
  const usual = usualDesign(run.content.container.typed, run.stock);
  return 'layout' in layoutRun({ ...run, design: usual, stocks: [] }, '00000000') ? usual : 'ledger';
}

/** By the container as typed: `glass jar 8 fl oz`, `plastic jug 32 fl oz`, `metal can 500 mL`. */
function usualDesign(container: string, { shape, labelWidthMm, labelHeightMm }: Stock): DesignName {
  if (shape === 'oval') return 'lid';
  if (labelHeightMm > labelWidthMm) return 'tall';
  if (/\bjug\b/i.test(container)) return 'jug';
  if (/\b(can|tin)\b/i.test(container)) return 'tin';
  return labelHeightMm > labelWidthMm * 0.7 ? 'jug' : 'squat';
}

const knownKey = <T extends object>(names: T, text: string | undefined): keyof T | undefined =>
  text !== undefined && Object.hasOwn(names, text) ? (text as keyof T) : undefined;
