import type { DesignName, LabelProblem, PrinterDpi } from '#libs/labels/content/label.js';
import type { ColourName, TypefaceName } from '#libs/labels/content/label-look.js';
import { labelProblemSentences } from '#libs/labels/content/label.js';
import type { LabelRun } from '#libs/labels/drawing/label-run.js';
import { jarRange } from '#libs/labels/layout/jar-range.js';
import type { Stock } from '#libs/labels/stocks/stocks.js';
import { symbolFor, type SymbolKind } from '#libs/labels/symbol/symbol-text.js';
import type { Sql } from '#libs/store/connection/sql.js';
import type { Lot } from '#libs/store/queries/lots.js';
import type { DispatchClearance } from '../jars/dispatch-clearance.js';
import { loadJudgingContext } from '../judging/judge-now.js';
import { invalid, refused, type Refusal } from '../record/problem.js';
import { loadSugarhouseContext, type SugarhouseContext, type WriteContext } from '../record/write-context.js';
import { chooseDesign, loadLabelLook } from './label-look.js';
import { loadLabelContent } from './label-content.js';
import { jarsInSpans, type LabelledJars, labelledJars, findLabelablePack, wasPrintedBefore } from './label-run.js';
import { findStockLastUsed } from './stock-last-used.js';
import { defaultStock, stocksInOrder } from './label-stocks.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** A request from page, API or command line. Omitted values default to the last run's, else to the usual ones. */
export interface LabelRequest {
  readonly lot: string;
  readonly stock?: string | undefined;
  readonly from?: number | undefined;
  readonly to?: number | undefined;
  readonly skip?: number | undefined;
  readonly rightMm?: number | undefined;
  readonly downMm?: number | undefined;
  readonly dpi?: PrinterDpi | undefined;
  readonly design?: DesignName | undefined;
  readonly typeface?: TypefaceName | undefined;
  readonly colour?: ColourName | undefined;
  readonly symbol?: 'link' | 'text' | undefined;
  readonly gtin?: string | undefined;
  /** The public address in the settings of the server or the shell; it overrides the one stored in the book. */
  readonly publicUrl?: string | undefined;
}

export interface LabelPlan {
  readonly lot: Lot;
  readonly run: LabelRun;
  readonly from: number;
  readonly to: number;
  readonly jars: LabelledJars;
  readonly reprinted: boolean;
  readonly houseContext: SugarhouseContext;
  /** What the symbol contains and why, where it is no link that any phone can open. */
  readonly addressSentences: readonly string[];
}

type LabelContext = Pick<WriteContext, 'sugarhouse' | 'now' | 'zone'>;

/** Checks a request and returns what would be printed. Nothing is laid out, drawn or written. */
export async function planLabels(sql: Sql, context: LabelContext, request: LabelRequest): Promise<LabelPlan | Refusal> {
  const clearance = await findLabelablePack(await loadJudgingContext(sql, context), request.lot);
  return 'problem' in clearance ? clearance : planForPack(sql, context, clearance, request);
}

/** The same for a pack that was already looked up and judged. */
export async function planForPack(
  sql: Sql,
  context: LabelContext,
  clearance: DispatchClearance,
  request: Omit<LabelRequest, 'lot'>,
): Promise<LabelPlan | Refusal> {
  const { sugarhouse } = context;
  const { lot } = clearance;
  const stocks = await stocksInOrder({ sql, sugarhouse });
  const stock = await stockFor({ sql, sugarhouse }, stocks, request.stock);
  if ('problem' in stock) return stock;
  const range = jarRange(lot.jars ?? 0, request.from, request.to);
  if ('problem' in range) return labelRefusal(range.problem);
  const jars = labelledJars(clearance, range.range);
  if ('problem' in jars) return jars;
  const houseContext = await loadSugarhouseContext(sql, context);
  const content = await loadLabelContent({ sql, sugarhouse }, lot, houseContext.place);
  if (!content) return refused('no-record', `${lot.code} has no record to print from.`);
  const symbol = chooseSymbol(request, houseContext.house?.publicUrl);
  if ('problem' in symbol) return symbol;
  const previousUse = await findStockLastUsed({ sql, sugarhouse }, stock.name);
  const { from, to } = range.range;
  const undesigned: LabelRun = {
    content,
    stock,
    stocks,
    symbol: symbol.symbol,
    jars: jarsInSpans({ sql, sugarhouse }, lot.code, jars.spans),
    dpi: request.dpi ?? 300,
    look: await loadLabelLook({ sql, sugarhouse }, houseContext.house, request),
    skip: request.skip ?? 0,
    nudge: {
      rightMm: request.rightMm ?? (previousUse?.rightTenths ?? 0) / 10,
      downMm: request.downMm ?? (previousUse?.downTenths ?? 0) / 10,
    },
    createdAt: context.now,
  };
  const run = { ...undesigned, design: chooseDesign(undesigned, request.design, houseContext.house) };
  const reprinted = await wasPrintedBefore({ sql, sugarhouse }, lot.code, from, to);
  return { lot, run, from, to, jars, reprinted, houseContext, addressSentences: symbol.sentences };
}

async function stockFor(
  reader: SugarhouseReader,
  stocks: readonly Stock[],
  name: string | undefined,
): Promise<Stock | Refusal> {
  const stock = name === undefined ? await defaultStock(reader, stocks) : stocks.find((each) => each.name === name);
  return stock ?? invalid('stock', `one of ${stocks.map((each) => each.name).join(', ')}`, `"${name ?? ''}"`);
}

/** Without an address that any phone can open, the symbol is text; a requested link or article number is refused. */
function chooseSymbol(
  request: Omit<LabelRequest, 'lot'>,
  bookUrl: string | undefined,
): { symbol: SymbolKind; sentences: readonly string[] } | Refusal {
  const gtin = request.gtin?.replace(/[\s-]/g, '') || undefined;
  const usual = symbolFor(request.publicUrl || bookUrl, gtin);
  const noLink = usual.symbol.kind === 'text';
  if (request.symbol === 'text') return { symbol: { kind: 'text' }, sentences: noLink ? usual.sentences : [] };
  if (noLink && (gtin || request.symbol === 'link'))
    return refused('no-public-address', `No link can be printed. ${usual.sentences.join(' ')}`);
  return usual;
}

/** A label problem as the refusal that page, API and command line return. */
export function labelRefusal(problem: LabelProblem): Refusal {
  if (problem.kind === 'bad-setting') return invalid(problem.field.toLowerCase(), problem.expected, `"${problem.got}"`);
  return refused(
    problem.kind,
    labelProblemSentences(problem)
      .map((sentence) => `${sentence}.`)
      .join(' '),
  );
}
