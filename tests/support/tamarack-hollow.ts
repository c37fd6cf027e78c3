import { createHmac } from 'node:crypto';
import { Writable } from 'node:stream';
import { drawLabels, type LabelsDrawn } from '#libs/labels/drawing/draw-labels.js';
import type { LabelContent, LabelJar, LabelProblem } from '#libs/labels/content/label.js';
import type { LabelRun } from '#libs/labels/drawing/label-run.js';
import { loadStocks, type Stock } from '#libs/labels/stocks/stocks.js';
import { jarCodeFrom } from '#libs/syrup/codes/jar-codes.js';

/** The invented sugarhouse of every test. */
export const halfPint: LabelContent = {
  practice: false,
  product: 'Maple syrup',
  gradeText: 'Grade A Amber Color and Rich Taste',
  container: { typed: 'glass jar 8 fl oz', millilitres: 236.5882365, unit: 'fl oz', amount: 8 },
  country: 'US',
  lot: '26077A-1',
  packedOn: '2026-03-19',
  maker: { name: 'Tamarack Hollow Sugarhouse', lines: ['Harrow Notch, Vermont 05000'], phone: '802-555-0143' },
  allergens: [],
  keep: 'Refrigerate after opening',
  bilingual: false,
};

export const ounces = (amount: number): LabelContent['container'] => ({
  typed: `glass jar ${amount} fl oz`,
  millilitres: amount * 29.5735295625,
  unit: 'fl oz',
  amount,
});

export const millilitres = (amount: number): LabelContent['container'] => ({
  typed: `glass jar ${amount} mL`,
  millilitres: amount,
  unit: 'mL',
  amount,
});

export const canadian: LabelContent = {
  ...halfPint,
  country: 'CA',
  bilingual: true,
  productFr: 'Sirop d’érable',
  gradeText: 'Canada Grade A Amber, Rich Taste',
  gradeTextFr: 'Canada Catégorie A Ambré, goût riche',
  keepFr: 'Réfrigérer après ouverture',
  container: millilitres(500),
};

export const address = 'https://boilbook.example';
export const createdAt = new Date('2026-03-20T12:00:00Z');

export const stockNamed = (name: string): Stock => {
  const stock = loadStocks().find((found) => found.name === name);
  if (!stock) throw new Error(`no stock ${name}`);
  return stock;
};

export function jarsOf(count: number, seed = 'a seed'): LabelJar[] {
  return Array.from({ length: count }, (_, index) => {
    for (let attempt = 0; ; attempt++) {
      const code = jarCodeFrom(
        createHmac('sha256', seed)
          .update(`${index + 1}/${attempt}`)
          .digest(),
      );
      if (code) return { n: index + 1, code };
    }
  });
}

export function runOf(provided: Partial<LabelRun>): LabelRun {
  return {
    content: halfPint,
    jars: jarsOf(3),
    stock: stockNamed('letter-30-up-66x25'),
    symbol: { kind: 'link', address },
    dpi: 300,
    createdAt,
    ...provided,
  };
}

/** Draws into memory; throws a problem as an error. */
export async function drawn(provided: Partial<LabelRun>): Promise<{ pdf: Buffer; drawn: LabelsDrawn }> {
  const { out, written } = memory();
  const answer = await drawLabels(runOf(provided), out);
  if ('problem' in answer) throw new Error(JSON.stringify(answer.problem));
  return { pdf: written(), drawn: answer.drawn };
}

export async function refused(provided: Partial<LabelRun>): Promise<{ problem: LabelProblem; bytes: number }> {
  const { out, written } = memory();
  const answer = await drawLabels(runOf(provided), out);
  if (!('problem' in answer)) throw new Error('it was drawn');
  return { problem: answer.problem, bytes: written().length };
}

export function memory(): { out: Writable; written: () => Buffer } {
  const pieces: Buffer[] = [];
  const out = new Writable({
    write(piece: Buffer, _encoding, done) {
      pieces.push(piece);
      done();
    },
  });
  return { out, written: () => Buffer.concat(pieces) };
}

/** A drum on a label that is large enough for one, an ounce on a small lid, else a half pint. */
export function contentFor({ labelWidthMm, shape }: Stock): LabelContent {
  if (labelWidthMm > 200)
    return { ...halfPint, container: { typed: 'drum 40 gal', millilitres: 151416.47, unit: 'gal', amount: 40 } };
  return shape === 'oval' && labelWidthMm < 70 ? { ...halfPint, container: ounces(1) } : halfPint;
}
