import { z } from 'zod';
import { labelRefusal, type LabelRequest, planLabels } from '#libs/actions/labels/plan-labels.js';
import { printLabels } from '#libs/actions/labels/print-labels.js';
import { leftOutSentences } from '#libs/actions/labels/label-run.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { designLabels, type PrinterDpi } from '#libs/labels/content/label.js';
import { labelColours, typefaceLabels } from '#libs/labels/content/label-look.js';
import { drawLabels } from '#libs/labels/drawing/draw-labels.js';
import { maxNudgeMm } from '#libs/labels/drawing/label-run.js';
import { type Download, download, type ApiSaved, apiSaved } from '../http/responses.js';
import type { Principal } from '../http/principal.js';
import { runQuery } from '../screens/labels/run-query.js';

const keysOf = <T extends object>(labels: T) => Object.keys(labels) as (keyof T & string)[];
const optionalInteger = (max: number) => z.coerce.number().int().min(0).max(max).optional();
const nudge = z.coerce.number().min(-maxNudgeMm).max(maxNudgeMm).optional();
const labelParameters = {
  stock: z.string().max(100).optional().describe('A label stock by its name. If left out, the one last printed on'),
  from: optionalInteger(10_000_000).describe('The first jar. If left out, 1'),
  to: optionalInteger(10_000_000).describe('The last jar. If left out, the last of the pack'),
  skip: optionalInteger(1000).describe('Number of labels already used on the first sheet'),
  right: nudge.describe('Moves the print to the right, in millimetres. If left out, as last time on this stock'),
  down: nudge.describe('Moves the print down, in millimetres. If left out, as last time on this stock'),
  dpi: z.enum(['203', '300', '600']).default('300').describe('Resolution of the printer in dots per inch'),
  design: z
    .enum(keysOf(designLabels))
    .optional()
    .describe('Layout. If left out, the sugarhouse’s own, else one that fits the container'),
  typeface: z.enum(keysOf(typefaceLabels)).optional(),
  colour: z.enum(keysOf(labelColours)).optional(),
  symbol: z
    .enum(['link', 'text'])
    .optional()
    .describe(
      'What the QR code contains. If left out, a link where a public address is set, else text; link without a public address is refused',
    ),
  gtin: z.string().max(40).optional().describe('Your own GTIN; the QR code is then a GS1 Digital Link'),
};
export const labelQuery = z.object(labelParameters);
export const labelBody = z.strictObject(labelParameters).meta({ id: 'Labels' });
type LabelQuery = z.infer<typeof labelQuery>;

/** The labels of a pack as a PDF. Records nothing: POST …/labels prints, and records that they were printed. */
export async function downloadLabels(
  principal: Principal,
  code: string,
  query: LabelQuery,
): Promise<Download | Refusal> {
  const plan = await planLabels(principal.book.read, principal.writeContext, labelRequest(principal, code, query));
  if ('problem' in plan) return plan;
  return download(`labels-${plan.lot.code}.pdf`, 'application/pdf', async (out) => {
    const drawn = await drawLabels(plan.run, out);
    return 'problem' in drawn ? labelRefusal(drawn.problem) : undefined;
  });
}

/** Records a run as the page and the command line do, and returns the address of its PDF. */
export async function printAndRecordLabels(
  principal: Principal,
  code: string,
  body: LabelQuery,
): Promise<ApiSaved | Refusal> {
  const printed = await printLabels(principal.book, principal.writeContext, labelRequest(principal, code, body));
  if ('problem' in printed) return printed;
  const { lot, run, from, to, jars, labels, pages, endedAt, reprinted, warnings } = printed;
  const query = new URLSearchParams({
    ...runQuery(printed),
    dpi: String(run.dpi),
    ...(run.design ? { design: run.design } : {}),
    ...(body.typeface ? { typeface: body.typeface } : {}),
    ...(body.colour ? { colour: body.colour } : {}),
    ...(body.symbol ? { symbol: body.symbol } : {}),
    ...(body.gtin ? { gtin: body.gtin } : {}),
  });
  const pdf = `/api/lots/${lot.code}/labels.pdf?${query.toString()}`;
  const answer = { lot: lot.code, stock: run.stock.name, from, to, leftOut: jars.leftOut, labels, pages, endedAt };
  return apiSaved(pdf, { ...answer, reprinted, pdf, said: leftOutSentences(jars), warnings });
}

const labelRequest = (principal: Principal, lot: string, { right, down, dpi, ...query }: LabelQuery): LabelRequest => ({
  ...query,
  lot,
  rightMm: right,
  downMm: down,
  dpi: Number(dpi) as PrinterDpi,
  publicUrl: principal.server.settings.publicUrl,
});
