import { judgingNow } from '#libs/actions/lots/judged-now.js';
import { labelCountIn, leftOutSentences, packToLabel, printedBefore } from '#libs/actions/labels/label-run.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { record } from '#libs/actions/record/record.js';
import { saveLastUsed, tenthsOf } from '#libs/actions/labels/stock-last-used.js';
import { layoutRun } from '#libs/labels/layout/layout-run.js';
import { settingProblem } from '#libs/labels/drawing/label-run.js';
import { labelsPerPage } from '#libs/labels/stocks/stocks.js';
import type { JarSpan } from '#libs/syrup/jars/held-jars.js';
import { one, type Posted } from '../../forms/field-view.js';
import type { Principal } from '../../http/principal.js';
import { asRefusal, runOf } from './label-runs.js';

/** Writes the run into the record and answers where its sheet is; what won't fit is said before anything is written. */
export async function printLabels(
  principal: Principal,
  code: string,
  posted: Posted,
): Promise<{ pdf: string; notes: readonly string[] } | Refusal> {
  const { sugarhouse } = principal.desk;
  const may = await packToLabel(await judgingNow(principal.book.read, principal.desk), code);
  if ('problem' in may) return may;
  const { lot } = may;
  const request = await runOf(principal, may, posted);
  if ('problem' in request) return request;
  const { run, from, to, jars } = request;
  const wrong = settingProblem(run);
  if (wrong) return asRefusal(wrong);
  const placed = layoutRun(run, '00000000');
  if ('problem' in placed) return asRefusal(placed.problem);
  const skip = run.skip ?? 0;
  const { rightTenths, downTenths } = tenthsOf(run.nudge);
  const ended = (skip + labelCountIn(jars)) % labelsPerPage(run.stock);
  const saved = await recordRuns(principal, lot.code, jars.spans, {
    stock: run.stock.name,
    skip: String(skip),
    ended: String(ended),
    ...(rightTenths ? { right: String(rightTenths / 10) } : {}),
    ...(downTenths ? { down: String(downTenths / 10) } : {}),
  });
  if (saved) return saved;
  const used = { rightTenths, downTenths, ended };
  await principal.book.writeHousehold((sql) => saveLastUsed(sql, sugarhouse, run.stock.name, used));
  const query = new URLSearchParams({
    stock: run.stock.name,
    from: String(from),
    to: String(to),
    skip: String(skip),
    right: String(rightTenths / 10),
    down: String(downTenths / 10),
    ...Object.fromEntries(
      ['symbol', 'gtin', 'dpi', 'design'].flatMap((name) => (one(posted[name]) ? [[name, one(posted[name])]] : [])),
    ),
  });
  return { pdf: `/lots/${lot.code}/labels.pdf?${query.toString()}`, notes: leftOutSentences(jars) };
}

/** One record for each span without a gap, so that labels and jars still come out even. */
async function recordRuns(
  { book, desk: context }: Principal,
  lot: string,
  spans: readonly JarSpan[],
  about: Readonly<Record<string, string>>,
): Promise<Refusal | undefined> {
  for (const [index, { from, to }] of spans.entries()) {
    const again = await printedBefore(book.read, context.sugarhouse, lot, from, to);
    const own = index === 0 ? context : { ...context, key: context.key && `${context.key}:${index}`, seen: undefined };
    const sent = { ...about, lot, from: String(from), to: String(to), what: again ? 'reprinted' : 'printed' };
    const saved = await record(book, own, kindByName.get('labels')!, sent);
    if ('problem' in saved) return saved;
  }
  return undefined;
}
