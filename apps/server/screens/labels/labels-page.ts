import { loadLabelCount, labelCountSentences } from '#libs/actions/labels/label-count.js';
import { loadNotesOnRecord } from '#libs/actions/lots/notes-on-record.js';
import { loadJudgingContext } from '#libs/actions/judging/judge-now.js';
import { type LabelPlan, labelRefusal, planForPack } from '#libs/actions/labels/plan-labels.js';
import { labelCautions, leftOutSentences, findLabelablePack } from '#libs/actions/labels/label-run.js';
import { stocksInOrder } from '#libs/actions/labels/label-stocks.js';
import { findLastUsedStock } from '#libs/actions/labels/stock-last-used.js';
import { type Refusal, sentencesOf } from '#libs/actions/record/problem.js';
import { judgeAddress } from '#libs/labels/content/address.js';
import { previewLabel } from '#libs/labels/layout/label-svg.js';
import { missingItems, missingSentence } from '#libs/labels/content/missing-items.js';
import { findNote } from '#libs/store/household/household.js';
import { recordsAbout, type Lot } from '#libs/store/queries/lots.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { formContext, problemView, type SubmittedForm } from '../../forms/form-view.js';
import { lastSeenFor } from '../../forms/last-seen.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { many } from '../../text/amounts.js';
import { clock, dayText } from '../../text/times.js';
import { parseLabelForm } from './label-form.js';
import { lookChoices } from './look-choices.js';
import { stockChoices } from './stock-choices.js';

/** The household stores under this name who read the cautions before the first labels. */
export const cautionNote = 'label-cautions-read';

/** The page that prints a lot's labels, with the choices posted so far and the problem they had. */
export async function labelsPage(principal: Principal, code: string, { posted = {}, problem }: SubmittedForm) {
  const { read } = principal.book;
  const { sugarhouse } = principal.writeContext;
  const seen = await lastSeenFor(principal, problem, code);
  const pack = await findLabelablePack(await loadJudgingContext(read, principal.writeContext), code);
  if ('problem' in pack) return pack;
  const { lot } = pack;
  const houseContext = await formContext(principal);
  const planOn = async (choices: Posted): Promise<LabelPlan | Refusal> => {
    const query = await parseLabelForm(principal, choices);
    return 'problem' in query ? query : planForPack(read, principal.writeContext, pack, query);
  };
  const first = await planOn(posted);
  const onFirst = await preview(first);
  const stock = await offeredStock(principal, posted, onFirst, async (name) =>
    preview(await planOn({ ...posted, stock: name })),
  );
  const plan = stock === undefined ? first : await planOn({ ...posted, stock });
  const shown = stock === undefined ? onFirst : await preview(plan);
  const unfit = 'unfit' in shown ? shown.unfit : undefined;
  const address = judgeAddress(principal.server.settings.publicUrl || houseContext.house?.publicUrl);
  return {
    title: `Labels for ${lot.code}`,
    here: 'packs',
    code: lot.code,
    jars: lot.jars ?? 0,
    cautionsRead: (await findNote({ sql: read, sugarhouse }, cautionNote)) !== undefined,
    cautions: labelCautions(houseContext),
    notesOnRecord: await loadNotesOnRecord({ sql: read, sugarhouse }, lot.code),
    address: address.sentences,
    mayLink: address.address !== undefined,
    missing: 'run' in plan ? missingItems(plan.run.content, houseContext.place).map(missingSentence) : [],
    leftOut: 'run' in plan ? leftOutSentences(plan.jars) : [],
    ...('label' in shown ? shown : {}),
    // After a refusal the reason is above the form already.
    whyNotPrintable: 'label' in shown || problem ? [] : shown.sentences,
    count: labelCountSentences(await loadLabelCount({ sql: read, sugarhouse }, lot.code, lot.jars ?? 0)),
    ...(await stockChoices(
      principal,
      { ...posted, ...(stock ? { stock } : {}) },
      { code: lot.code, fitsOn: unfit?.fitsOn },
    )),
    requested: Object.fromEntries(
      ['from', 'to', 'skip', 'symbol', 'gtin', 'dpi', 'design', 'typeface', 'colour'].map((name) => [
        name,
        firstText(posted[name]),
      ]),
    ),
    looks: lookChoices(posted, houseContext.house),
    summary: problemView(
      unfit && problem?.kind === 'refused' && problem.rule === 'does-not-fit'
        ? { ...problem, sentence: unfit.text }
        : problem,
    ),
    ...seen,
    runs: await printedRuns(principal, lot),
    boil: lot.code.replace(/-\d+$/, ''),
    state: lot.state,
  };
}

/**
 * The sheet offered where nobody chose one and nothing was printed yet: the first in order that holds the whole label,
 * so that the advice to refrigerate isn't left out unseen; else the first that holds what is required. Undefined where
 * it is the first of all.
 */
async function offeredStock(
  principal: Principal,
  posted: Posted,
  shown: LabelShown | NoLabel,
  previewOn: (stock: string) => Promise<LabelShown | NoLabel>,
): Promise<string | undefined> {
  const isWhole = (label: LabelShown | NoLabel): boolean =>
    'notes' in label && !label.notes.some((note) => note.startsWith('Left out'));
  if (firstText(posted['stock']) || (await findLastUsedStock(readerOf(principal)))) return undefined;
  const isUnfit = 'unfit' in shown && shown.unfit !== undefined;
  if (isWhole(shown) || !('label' in shown || isUnfit)) return undefined;
  const [, ...others] = await stocksInOrder(readerOf(principal));
  for (const { name } of others) if (isWhole(await previewOn(name))) return name;
  return isUnfit ? shown.unfit?.fitsOn[0] : undefined;
}

interface LabelShown {
  readonly label: string;
  readonly notes: readonly string[];
}
interface NoLabel {
  readonly sentences: readonly string[];
  /** It does not fit on the chosen sheet: why, and the names of the sheets that it fits on. */
  readonly unfit?: { readonly text: string; readonly fitsOn: readonly string[] };
}

/** One label as it will print, or why it can't. Reads the plan's jars, which can be read once. */
async function preview(plan: LabelPlan | Refusal): Promise<LabelShown | NoLabel> {
  if ('problem' in plan) return { sentences: sentencesOf(plan.problem) };
  for await (const jar of plan.run.jars) {
    const seen = previewLabel(plan.run, jar);
    if ('svg' in seen) return { label: seen.svg, notes: seen.layout.notes.map((note) => `${note}.`) };
    if (seen.problem.kind !== 'does-not-fit') return { sentences: sentencesOf(labelRefusal(seen.problem).problem) };
    const { unfit, fitsOn } = seen.problem;
    const text = [
      ...unfit.map(({ item, because }) => `${item} does not fit on this sheet: ${because}.`),
      fitsOn.length > 0 ? 'The sheets that it fits on are marked below.' : 'It fits on no label sheet of this book.',
    ].join(' ');
    return { sentences: [text], unfit: { text, fitsOn } };
  }
  return { sentences: [] };
}

async function printedRuns(principal: Principal, lot: Lot) {
  const runs = await recordsAbout(readerOf(principal), lot.code, 'labels');
  return runs.reverse().map(({ at, body, by }) => ({
    when: `${dayText(at)} ${clock(at)}`,
    text: `${body.what}: jars ${body.from ?? 1} to ${body.to ?? lot.jars ?? 0} on ${body.stock}${body.ended ? `; the sheet is used up to place ${body.ended}` : ''}`,
    by,
    count: many((body.to ?? 0) - (body.from ?? 1) + 1, 'label'),
  }));
}
