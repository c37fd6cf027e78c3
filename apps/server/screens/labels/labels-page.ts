import { labelCountOf, labelCountSentences } from '#libs/actions/labels/label-count.js';
import { judgingNow } from '#libs/actions/lots/judged-now.js';
import type { MayGo } from '#libs/actions/lots/may-go-out.js';
import { labelCautions, leftOutSentences, packToLabel } from '#libs/actions/labels/label-run.js';
import { previewLabel } from '#libs/labels/layout/label-svg.js';
import { missingItems, missingSentence } from '#libs/labels/content/missing-items.js';
import { findNote } from '#libs/store/household/household.js';
import { recordsAbout, type Lot } from '#libs/store/queries/lots.js';
import { one, type Posted } from '../../forms/field-view.js';
import { formGround, problemView, type Sent } from '../../forms/form-view.js';
import { seenOn } from '../../forms/last-seen.js';
import type { Visitor } from '../../http/principal.js';
import { many } from '../../text/amounts.js';
import { clock, dayWords } from '../../text/times.js';
import { addressOf, asRefusal, runOf } from './label-runs.js';
import { stockChoices } from './stock-choices.js';

/** Under this name the household keeps who read the cautions before the first labels. */
export const cautionNote = 'label-cautions-read';

export async function labelsPage(who: Visitor, code: string, { posted = {}, problem }: Sent) {
  const { read } = who.book;
  const { sugarhouse } = who.desk;
  const seen = await seenOn(who, problem, code);
  const may = await packToLabel(await judgingNow(read, who.desk), code);
  if ('problem' in may) return may;
  const { lot } = may;
  const ground = await formGround(who);
  const asked = await runOf(who, may, posted);
  const address = addressOf(who, ground.house?.publicUrl);
  return {
    title: `Labels for ${lot.code}`,
    here: 'packs',
    code: lot.code,
    jars: lot.jars ?? 0,
    cautionsRead: (await findNote(read, sugarhouse, cautionNote)) !== undefined,
    sayings: labelCautions(ground),
    address: address.sentences,
    missing: 'run' in asked ? missingItems(asked.run.content, ground.place).map(missingSentence) : [],
    leftOut: 'run' in asked ? leftOutSentences(asked.jars) : [],
    ...(await preview(who, may, posted)),
    count: labelCountSentences(await labelCountOf(read, sugarhouse, lot.code, lot.jars ?? 0)),
    ...(await stockChoices(who, posted, lot.code)),
    asked: Object.fromEntries(
      ['from', 'to', 'skip', 'symbol', 'gtin', 'dpi', 'design'].map((name) => [name, one(posted[name])]),
    ),
    summary: problemView(problem),
    ...seen,
    runs: await runsOf(who, lot),
    boil: lot.code.replace(/-\d+$/, ''),
    state: lot.state,
  };
}

/** One label as it will print, or what stands in its way. */
async function preview(
  who: Visitor,
  may: MayGo,
  posted: Posted,
): Promise<{ label?: string; stands?: readonly string[] }> {
  const asked = await runOf(who, may, posted);
  if ('problem' in asked) return { stands: problemView(asked.problem)?.lines.map((line) => line.words) ?? [] };
  for await (const jar of asked.run.jars) {
    const seen = previewLabel(asked.run, jar);
    if ('svg' in seen) return { label: seen.svg };
    return { stands: problemView(asRefusal(seen.problem).problem)?.lines.map((line) => line.words) ?? [] };
  }
  return {};
}

interface RunBody {
  readonly stock: string;
  readonly from?: number;
  readonly to?: number;
  readonly what: string;
  readonly ended?: number;
  readonly by: string;
}

async function runsOf(who: Visitor, lot: Lot) {
  const runs = await recordsAbout<RunBody>(who.book.read, who.desk.sugarhouse, lot.code, 'labels');
  return runs.reverse().map(({ at, body, by }) => ({
    when: `${dayWords(at)} ${clock(at)}`,
    words: `${body.what}: jars ${body.from ?? 1} to ${body.to ?? lot.jars ?? 0} on ${body.stock}${body.ended ? `; the sheet is used up to place ${body.ended}` : ''}`,
    by,
    count: many((body.to ?? 0) - (body.from ?? 1) + 1, 'label'),
  }));
}
