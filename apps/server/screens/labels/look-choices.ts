import type { HouseBody } from '#libs/records/kinds/house.js';
import { designLabels } from '#libs/labels/content/label.js';
import { labelColours, typefaceLabels } from '#libs/labels/content/label-look.js';
import { firstText, type Posted } from '../../forms/field-view.js';

/** Layout, typeface and colour for one run; blank ones are as the sugarhouse set them. */
export function lookChoices(posted: Posted, house: HouseBody | undefined) {
  const colours = Object.fromEntries(Object.entries(labelColours).map(([name, { label }]) => [name, label]));
  return [
    choice('design', 'Layout', designLabels, house?.labelLayout ?? 'by the container'),
    choice('typeface', 'Typeface of the name and the product', typefaceLabels, house?.labelTypeface ?? 'plain'),
    choice('colour', 'Colour', colours, house?.labelColour ?? 'black'),
  ];

  function choice(name: string, label: string, labels: Readonly<Record<string, string>>, houseDefault: string) {
    const chosen = firstText(posted[name]) ?? '';
    const options = Object.entries(labels).map(([value, text]) => ({ value, text, chosen: value === chosen }));
    const blank = { value: '', text: `Sugarhouse default (${houseDefault})`, chosen: !(chosen in labels) };
    return { name, label, choices: [blank, ...options] };
  }
}
