import { packToLabel, printedBefore } from '#libs/actions/label-run.js';
import { kindByName } from '#libs/actions/kinds.js';
import type { Refusal } from '#libs/actions/problem.js';
import { record } from '#libs/actions/record.js';
import { keepLastUsed, tenthsOf } from '#libs/actions/stock-last-used.js';
import { layoutRun } from '#libs/labels/layout-run.js';
import { settingProblem } from '#libs/labels/label-run.js';
import { labelsPerPage } from '#libs/labels/stocks.js';
import { one, type Posted } from '../forms/field-view.js';
import type { Visitor } from '../web/visitor.js';
import { asRefusal, runOf } from './label-runs.js';

/** Writes the run into the record and answers where its sheet is; what won't fit is said before anything is written. */
export async function printLabels(who: Visitor, code: string, posted: Posted): Promise<{ pdf: string } | Refusal> {
  const { sugarhouse } = who.desk;
  const lot = await packToLabel(who.book.read, sugarhouse, code);
  if ('problem' in lot) return lot;
  const asked = await runOf(who, lot, posted);
  if ('problem' in asked) return asked;
  const { run, from, to } = asked;
  const wrong = settingProblem(run);
  if (wrong) return asRefusal(wrong);
  const placed = layoutRun(run, '00000000');
  if ('problem' in placed) return asRefusal(placed.problem);
  const again = await printedBefore(who.book.read, sugarhouse, lot.code, from, to);
  const skip = run.skip ?? 0;
  const { rightTenths, downTenths } = tenthsOf(run.nudge);
  const ended = (skip + to - from + 1) % labelsPerPage(run.stock);
  const kept = await record(who.book, who.desk, kindByName.get('labels')!, {
    lot: lot.code,
    stock: run.stock.name,
    from: String(from),
    to: String(to),
    skip: String(skip),
    ended: String(ended),
    ...(rightTenths ? { right: String(rightTenths / 10) } : {}),
    ...(downTenths ? { down: String(downTenths / 10) } : {}),
    what: again ? 'reprinted' : 'printed',
  });
  if ('problem' in kept) return kept;
  const used = { rightTenths, downTenths, ended };
  await who.book.writeHousehold((sql) => keepLastUsed(sql, sugarhouse, run.stock.name, used));
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
  return { pdf: `/lots/${lot.code}/labels.pdf?${query.toString()}` };
}
