import { labelCountOf, labelCountSentences } from '#libs/actions/labels/label-count.js';
import { judgingNow } from '#libs/actions/lots/judged-now.js';
import type { MayGo } from '#libs/actions/lots/may-go-out.js';
import { labelCautions, leftOutSentences, packToLabel } from '#libs/actions/labels/label-run.js';
import { previewLabel } from '#libs/labels/layout/label-svg.js';
import { missingItems, missingSentence } from '#libs/labels/content/missing-items.js';
import { findNote } from '#libs/store/household/household.js';
import { recordsAbout, type Lot } from '#libs/store/queries/lots.js';
import { one, type Posted } from '../../forms/field-view.js';
import { formContext, problemView, type Sent } from '../../forms/form-view.js';
import { seenOn } from '../../forms/last-seen.js';
import type { Principal } from '../../http/principal.js';
import { many } from '../../text/amounts.js';
import { clock, dayText } from '../../text/times.js';
import { addressOf, asRefusal, runOf } from './label-runs.js';
import { stockChoices } from './stock-choices.js';

/** Under this name the household keeps who read the cautions before the first labels. */
export const cautionNote = 'label-cautions-read';

export async function labelsPage(principal: Principal, code: string, { posted = {}, problem }: Sent) {
  const { read } = principal.book;
  const { sugarhouse } = principal.desk;
  const seen = await seenOn(principal, problem, code);
  const may = await packToLabel(await judgingNow(read, principal.desk), code);
  if ('problem' in may) return may;
  const { lot } = may;
  const houseContext = await formContext(principal);
  const query = await runOf(principal, may, posted);
  const address = addressOf(principal, houseContext.house?.publicUrl);
  return {
    title: `Labels for ${lot.code}`,
    here: 'packs',
    code: lot.code,
    jars: lot.jars ?? 0,
    cautionsRead: (await findNote(read, sugarhouse, cautionNote)) !== undefined,
    sayings: labelCautions(houseContext),
    address: address.sentences,
    missing: 'run' in query ? missingItems(query.run.content, houseContext.place).map(missingSentence) : [],
    leftOut: 'run' in query ? leftOutSentences(query.jars) : [],
    ...(await preview(principal, may, posted)),
    count: labelCountSentences(await labelCountOf(read, sugarhouse, lot.code, lot.jars ?? 0)),
    ...(await stockChoices(principal, posted, lot.code)),
    asked: Object.fromEntries(
      ['from', 'to', 'skip', 'symbol', 'gtin', 'dpi', 'design'].map((name) => [name, one(posted[name])]),
    ),
    summary: problemView(problem),
    ...seen,
    runs: await runsOf(principal, lot),
    boil: lot.code.replace(/-\d+$/, ''),
    state: lot.state,
  };
}

/** One label as it will print, or what stands in its way. */
async function preview(
  principal: Principal,
  may: MayGo,
  posted: Posted,
): Promise<{ label?: string; stands?: readonly string[] }> {
  const query = await runOf(principal, may, posted);
  if ('problem' in query) return { stands: problemView(query.problem)?.lines.map((line) => line.words) ?? [] };
  for await (const jar of query.run.jars) {
    const seen = previewLabel(query.run, jar);
    if ('svg' in seen) return { label: seen.svg };
    return { stands: problemView(asRefusal(seen.problem).problem)?.lines.map((line) => line.words) ?? [] };
  }
  return {};
}

async function runsOf(principal: Principal, lot: Lot) {
  const runs = await recordsAbout(principal.book.read, principal.desk.sugarhouse, lot.code, 'labels');
  return runs.reverse().map(({ at, body, by }) => ({
    when: `${dayText(at)} ${clock(at)}`,
    words: `${body.what}: jars ${body.from ?? 1} to ${body.to ?? lot.jars ?? 0} on ${body.stock}${body.ended ? `; the sheet is used up to place ${body.ended}` : ''}`,
    by,
    count: many((body.to ?? 0) - (body.from ?? 1) + 1, 'label'),
  }));
}
