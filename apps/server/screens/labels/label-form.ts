import type { LabelRequest } from '#libs/actions/labels/plan-labels.js';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import { designLabels, type PrinterDpi, printerDpis } from '#libs/labels/content/label.js';
import { labelColours, typefaceLabels } from '#libs/labels/content/label-look.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import type { Principal } from '../../http/principal.js';
import { parseNudge } from './nudges.js';

/** The boxes of the form as a label request, or a fault at the box that is invalid. */
export async function parseLabelForm(
  principal: Principal,
  posted: Posted,
): Promise<Omit<LabelRequest, 'lot'> | Refusal> {
  const numbers: Partial<Record<'from' | 'to' | 'skip', number>> = {};
  for (const name of ['from', 'to', 'skip'] as const) {
    const typed = firstText(posted[name]);
    if (!/^\d{0,7}$/.test(typed)) return invalid(name, 'a whole number', `"${typed}"`);
    if (typed !== '') numbers[name] = Number(typed);
  }
  const stock = firstText(posted['stock']) || undefined;
  const nudge = await parseNudge(principal, stock, posted);
  if ('problem' in nudge) return nudge;
  const [design, typeface, colour] = ['design', 'typeface', 'colour'].map((name) => firstText(posted[name]));
  return {
    ...numbers,
    ...nudge,
    stock,
    dpi: printerDpis.find((each) => String(each) === firstText(posted['dpi'])) satisfies PrinterDpi | undefined,
    design: keyIn(designLabels, design),
    typeface: keyIn(typefaceLabels, typeface),
    colour: keyIn(labelColours, colour),
    symbol: (['link', 'text'] as const).find((each) => each === firstText(posted['symbol'])),
    gtin: firstText(posted['gtin']) || undefined,
    publicUrl: principal.server.settings.publicUrl,
  };
}

const keyIn = <T extends object>(names: T, typed: string | undefined): keyof T | undefined =>
  typed !== undefined && Object.hasOwn(names, typed) ? (typed as keyof T) : undefined;
