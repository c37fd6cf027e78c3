import { readFields } from '#libs/actions/record/read-fields.js';
import { stockGeometry, labelStockFields, sentence } from '#libs/actions/kinds/label-stock.js';
import { labelProblemSentences, type LabelContent } from '#libs/labels/content/label.js';
import { previewLabel } from '#libs/labels/layout/label-svg.js';
import { sheetSvg } from '#libs/labels/layout/sheet-svg.js';
import { checkStock } from '#libs/labels/stocks/stocks.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import type { FormContext } from '../../forms/form-view.js';

export interface StockPreview {
  readonly sheet?: string;
  readonly label?: string;
  readonly sentences: readonly string[];
}

/** The sheet and a label as typed so far, or what is still missing to draw them. */
export function stockPreview(posted: Posted, houseContext: FormContext): StockPreview {
  const typed = Object.fromEntries(
    Object.keys(labelStockFields).flatMap((name) => (firstText(posted[name]) ? [[name, firstText(posted[name])]] : [])),
  );
  if (Object.keys(typed).length === 0) return { sentences: ['Enter the sizes to see the sheet here.'] };
  // A sheet can be previewed before it has a name.
  const read = readFields(labelStockFields, { id: 'unnamed', ...typed }, houseContext.parseOptions);
  if ('faults' in read) {
    const label = (name: string) => labelStockFields[name as keyof typeof labelStockFields]?.label ?? name;
    return {
      sentences: read.faults.map(({ field, expected, got }) =>
        got === 'nothing' ? `${label(field)} is still missing.` : `${label(field)}: expected ${expected}, got ${got}.`,
      ),
    };
  }
  const stock = stockGeometry(read.body);
  const checked = checkStock(stock);
  const sheet = sheetSvg(stock);
  if (!checked.stock) return { sheet, sentences: checked.faults.map(sentence) };
  const run = {
    content: exampleContent(houseContext),
    stock: checked.stock,
    symbol: { kind: 'link', address: 'https://boilbook.example' },
    dpi: 300,
  } as const;
  const label = previewLabel(run, { n: 1, code: exampleCode });
  return 'svg' in label
    ? { sheet, label: label.svg, sentences: [] }
    : { sheet, sentences: labelProblemSentences(label.problem) };
}

const exampleCode = 'K7QM3XWT';

/** An invented half pint, with the house's own name, since names differ in length. */
const exampleContent = ({ house, place }: FormContext): LabelContent => ({
  practice: false,
  product: 'Maple syrup',
  ...(place.canada ? { productFr: 'Sirop d’érable', keepFr: 'Réfrigérer après ouverture' } : {}),
  gradeText: null,
  container: place.canada
    ? { typed: 'glass jar 250 mL', millilitres: 250, unit: 'mL', amount: 250 }
    : { typed: 'glass jar 8 fl oz', millilitres: 236.5882365, unit: 'fl oz', amount: 8 },
  country: place.canada ? 'CA' : 'US',
  lot: '26077A-1',
  packedOn: '2026-03-19',
  maker: { name: house?.name || 'Your sugarhouse', lines: [house?.town ?? ''].filter(Boolean) },
  allergens: [],
  keep: 'Refrigerate after opening',
  bilingual: place.canada,
});
