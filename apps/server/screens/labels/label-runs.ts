import { loadSugarhouseContext } from '#libs/actions/record/write-context.js';
import { jarsInSpans, type LabelledJars, labelledJars } from '#libs/actions/labels/label-run.js';
import type { MayGo } from '#libs/actions/lots/may-go-out.js';
import { invalid, refused, type Refusal } from '#libs/actions/record/problem.js';
import { judgeAddress } from '#libs/labels/content/address.js';
import { jarRange } from '#libs/labels/layout/jar-range.js';
import {
  type DesignName,
  type LabelProblem,
  labelProblemSentences,
  type PrinterDpi,
} from '#libs/labels/content/label.js';
import { labelOfPack } from '#libs/actions/labels/label-of-pack.js';
import type { LabelRun } from '#libs/labels/drawing/label-run.js';
import type { Stock } from '#libs/labels/stocks/stocks.js';
import { stocksOf } from '#libs/actions/labels/stocks-of.js';
import type { SymbolKind } from '#libs/labels/symbol/symbol-text.js';
import { one, type Posted } from '../../forms/field-view.js';
import type { Principal } from '../../http/principal.js';
import { nudgeOf } from './nudges.js';

export type RunAsked = Posted;

/** A run of labels as the form asks for it, or what is wrong with the asking. */
export async function runOf(
  principal: Principal,
  may: MayGo,
  query: RunAsked,
): Promise<{ run: LabelRun; from: number; to: number; jars: LabelledJars } | Refusal> {
  const { lot } = may;
  const stocks = await stocksInOrder(principal);
  const stock =
    stocks.find((each) => each.name === one(query['stock'])) ?? (one(query['stock']) === '' ? stocks[0] : undefined);
  if (!stock)
    return invalid('stock', `one of ${stocks.map((each) => each.name).join(', ')}`, `"${one(query['stock'])}"`);
  const wrong = ['from', 'to', 'skip'].find((name) => !/^\d{0,7}$/.test(one(query[name])));
  if (wrong) return invalid(wrong, 'a whole number', `"${one(query[wrong])}"`);
  const nudge = await nudgeOf(principal, stock.name, query);
  if ('problem' in nudge) return nudge;
  const number = (name: string): number | undefined => (one(query[name]) === '' ? undefined : Number(one(query[name])));
  const range = jarRange(lot.jars ?? 0, number('from'), number('to'));
  if ('problem' in range) return asRefusal(range.problem);
  const jars = labelledJars(may, range.range);
  if ('problem' in jars) return jars;
  const { sugarhouse } = principal.desk;
  const houseContext = await loadSugarhouseContext(principal.book.read, principal.desk);
  const content = await labelOfPack(principal.book.read, sugarhouse, lot, houseContext.place);
  if (!content) return refused('no-record', `${lot.code} has no record to print from.`);
  const { from, to } = range.range;
  const { address } = addressOf(principal, houseContext.house?.publicUrl);
  const run: LabelRun = {
    content,
    stock,
    stocks,
    symbol: symbolOf(query, address),
    jars: jarsInSpans(principal.book.read, sugarhouse, lot.code, jars.spans),
    dpi: ([203, 300, 600].find((each) => String(each) === one(query['dpi'])) ?? 300) as PrinterDpi,
    skip: number('skip') ?? 0,
    nudge,
    design:
      (['lamp', 'market'] as const).find((each) => each === one(query['design'])) ?? ('ledger' satisfies DesignName),
    createdAt: principal.desk.now,
  };
  return { run, from, to, jars };
}

/** An article number goes before the plain link; spaces and dashes in it are for the eye. */
function symbolOf(query: RunAsked, address: string): SymbolKind {
  if (one(query['symbol']) === 'text') return { kind: 'text' };
  const gtin = one(query['gtin']).replace(/[\s-]/g, '');
  return gtin === '' ? { kind: 'link', address } : { kind: 'gs1', address, gtin };
}

/** As both countries mostly have them in the drawer: letter sheets, rolls, A4; the house's own before them all. */
export async function stocksInOrder(principal: Principal): Promise<Stock[]> {
  const all = await stocksOf(principal.book.read, principal.desk.sugarhouse);
  const rank = (stock: Stock): number =>
    ['letter', 'roll', 'a4'].findIndex((kind) => stock.name.startsWith(`${kind}-`));
  return all.sort((a, b) => rank(a) - rank(b) || (a.labelWidthMm < b.labelWidthMm ? -1 : 1));
}

/** The address that labels carry; where none was set, this machine's own, and that is said. */
export function addressOf(
  principal: Principal,
  saved: string | undefined,
): { address: string; sentences: readonly string[] } {
  const { settings } = principal.server;
  const judged = judgeAddress(settings.publicUrl || saved);
  return { address: judged.address ?? `http://127.0.0.1:${settings.port}`, sentences: judged.sentences };
}

export function asRefusal(problem: LabelProblem): Refusal {
  if (problem.kind === 'bad-setting') return invalid(problem.field.toLowerCase(), problem.expected, `"${problem.got}"`);
  return refused(problem.kind, labelProblemSentences(problem).join(' '));
}
