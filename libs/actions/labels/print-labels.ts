import type { Writable } from 'node:stream';
import type { LabelContent, LabelProblem } from '#libs/labels/content/label.js';
import { missingItems, missingSentence } from '#libs/labels/content/missing-items.js';
import { type LabelRun, settingProblem } from '#libs/labels/drawing/label-run.js';
import type { LabelLayout } from '#libs/labels/layout/label-layout.js';
import { layoutRun } from '#libs/labels/layout/layout-run.js';
import { labelsPerPage } from '#libs/labels/stocks/stocks.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { Book } from '#libs/store/book.js';
import { findRecord } from '#libs/store/queries/lots.js';
import type { JarSpan } from '#libs/syrup/jars/jar-spans.js';
import { kindNamed } from '../kinds/registry.js';
import { parsedField, type RecordInput } from '../record/parsed-field.js';
import { record } from '../record/record.js';
import type { Refusal } from '../record/problem.js';
import type { WriteContext } from '../record/write-context.js';
import { labelCautions, countLabelsIn, leftOutSentences, wasPrintedBefore } from './label-run.js';
import { type LabelPlan, labelRefusal, type LabelRequest, planLabels } from './plan-labels.js';
import { saveLastUsed, nudgeInTenths } from './stock-last-used.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export interface PrintedLabels extends LabelPlan {
  readonly labels: number;
  readonly pages: number;
  /** Places used on the last sheet; 0 where it is full. */
  readonly endedAt: number;
  /** Warnings for whoever applies the labels. */
  readonly warnings: readonly string[];
}

type Drawn = { readonly layout: LabelLayout } | { readonly problem: LabelProblem };
/** Opens the destination, passes it to `draw`, and resolves once everything has been written to it. */
type WithDestination = (draw: (out: Writable) => Promise<Drawn>) => Promise<Drawn>;

/**
 * Prints the labels of a pack and records the run. With `into` they are drawn first, so that a run that could not be
 * drawn or delivered is not recorded; without it only the layout is made, and the caller draws the same plan later.
 */
export async function printLabels(
  book: Book,
  context: WriteContext,
  request: LabelRequest,
  withDestination?: WithDestination,
): Promise<PrintedLabels | Refusal> {
  const plan = await planLabels(book.read, context, request);
  if ('problem' in plan) return plan;
  const { lot, run, jars } = plan;
  const pack = await findRecord(sugarhouseReader(book.read, context.sugarhouse), 'pack', lot.code);
  const drawn = withDestination ? await withDestination((out) => drawTo(run, out)) : layOut(run);
  if ('problem' in drawn) return labelRefusal(drawn.problem);
  const labels = countLabelsIn(jars);
  const skip = run.skip ?? 0;
  const perPage = labelsPerPage(run.stock);
  const endedAt = (skip + labels) % perPage;
  const { rightTenths, downTenths } = nudgeInTenths(run.nudge);
  const refusal = await recordRuns(book, context, lot.code, jars.spans, {
    stock: run.stock.name,
    skip: String(skip),
    ended: String(endedAt),
    ...statedOn(run.content, pack?.body),
    ...(run.symbol.kind === 'gs1' ? { gtin: run.symbol.gtin } : {}),
    ...(rightTenths ? { right: String(rightTenths / 10) } : {}),
    ...(downTenths ? { down: String(downTenths / 10) } : {}),
  });
  if (refusal) return refusal;
  const used = { rightTenths, downTenths, ended: endedAt };
  await book.writeHousehold((sql) => saveLastUsed(sugarhouseReader(sql, context.sugarhouse), run.stock.name, used));
  return {
    ...plan,
    labels,
    pages: Math.ceil((skip + labels) / perPage),
    endedAt,
    warnings: [
      ...leftOutSentences(jars),
      ...labelCautions(plan.houseContext),
      ...plan.addressSentences,
      ...drawn.layout.notes,
      ...missingItems(run.content, plan.houseContext.place).map(missingSentence),
    ],
  };
}

/** What the labels state, stored with the run: the record may change after they were printed. */
function statedOn({ allergens }: LabelContent, pack: PackBody | undefined): RecordInput {
  const quantity = pack?.container.volume;
  return {
    allergens: allergens && allergens.length > 0 ? allergens.join('; ') : 'none',
    ...(quantity ? { quantity: parsedField(quantity.typed, quantity) } : {}),
  };
}

async function drawTo(run: LabelRun, out: Writable): Promise<Drawn> {
  // Loaded only when labels are drawn: the PDF library takes longer to load than a command to start.
  const { drawLabels } = await import('#libs/labels/drawing/draw-labels.js');
  const answer = await drawLabels(run, out);
  return 'problem' in answer ? answer : answer.drawn;
}

function layOut(run: LabelRun): Drawn {
  const problem = settingProblem(run);
  return problem ? { problem } : layoutRun(run, '00000000');
}

/** One record per contiguous span, so that labels and jars still reconcile. */
async function recordRuns(
  book: Book,
  context: WriteContext,
  lot: string,
  spans: readonly JarSpan[],
  runFields: RecordInput,
): Promise<Refusal | undefined> {
  for (const [index, { from, to }] of spans.entries()) {
    const isReprint = await wasPrintedBefore(sugarhouseReader(book.read, context.sugarhouse), lot, from, to);
    const runContext =
      index === 0 ? context : { ...context, key: context.key && `${context.key}:${index}`, seen: undefined };
    const input = { ...runFields, lot, from: parsedField(String(from), from), to: parsedField(String(to), to) };
    const write = (what: string) => record(book, runContext, kindNamed('labels'), { ...input, what });
    const saved = await write(isReprint ? 'reprinted' : 'printed');
    // A repeated request finds its own first run: with the same key it is that run, not a reprint.
    const first = 'problem' in saved && saved.problem.kind === 'key-used' && isReprint ? await write('printed') : saved;
    if ('problem' in first) return first;
  }
  return undefined;
}
