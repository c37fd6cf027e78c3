import { capital } from '../../text/capital.js';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { invalid, type Refusal, sentencesOf } from '#libs/actions/record/problem.js';
import { inspectionHoldsLot } from '#libs/actions/facts/spoilage-observations.js';
import { traceLot } from '#libs/actions/lots/trace-lot.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import { returnedJarJudged } from '#libs/reports/lot/returned-jar-text.js';
import type { ReturnedJarJudged } from '#libs/syrup/contents/judge-complaint.js';
import { unknown } from '#libs/actions/record/problem.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { writeContextOf, writeRecord } from '../../forms/write-record.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { complaints, holdAnswers } from './return-fields.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Records the inspection of a returned jar as a complaint and, if that was chosen, holds the lot. */
export async function recordReturn(
  principal: Principal,
  code: string,
  posted: Posted,
): Promise<Refusal | { readonly lot: string; readonly notes: readonly string[] }> {
  const { read } = principal.book;
  const trace = await traceLot(
    sugarhouseReader(read, principal.writeContext.sugarhouse),
    code,
    principal.writeContext.now,
  );
  if ('problem' in trace) return trace;
  const lot = trace.pack;
  if (!lot) return unknown('jar or pack', code);
  const hold = firstText(posted['hold']);
  const inspected = Object.fromEntries(Object.entries(posted).map(([name, value]) => [name, firstText(value)]));
  const isHeldAnyway = inspectionHoldsLot(inspected);
  // Whether to hold the lot must be answered, unless the inspection holds it: the form then shows that instead.
  if (!isHeldAnyway && !holdAnswers.some((answer) => answer === hold))
    return withMissingReport(invalid('hold', 'hold it or not', hold || 'nothing'), posted);
  const { hold: _, ...rest } = posted;
  const written = await writeRecord(principal, complaints, rest, {
    lot,
    ...(trace.jar ? { jar: trace.jar.printed } : {}),
  });
  if ('problem' in written) return written;
  const notes = [`Saved ${written.id}.`, ...written.notes];
  if (hold === 'yes') notes.push(...(await holdForReturn(principal, posted, lot)));
  const after = await findLot(sugarhouseReader(read, principal.writeContext.sugarhouse), lot);
  if (isHeldAnyway)
    notes.push(
      `What you recorded holds ${lot}: inspect other jars of it and record how many were mouldy and how many sound. Check what was sent out, and decide whether to recall it.`,
    );
  else {
    const { asks, consequences } = (await recordedVerdict(principal, written.id)) ?? {
      asks: 'nothing',
      consequences: [],
    };
    notes.push(...consequences.map((each) => `${capital(each.found)}. ${each.text}`));
    if (hold === 'no')
      notes.push(
        `${lot} is ${after?.state ?? 'open'}: not held for this.${asks === 'hold' ? ' By its readings it should be held.' : ''}`,
      );
  }
  return { lot, notes };
}

/** Reports the blank required box of the record together with the unanswered question. */
function withMissingReport(refusal: Refusal, posted: Posted): Refusal {
  const { problem } = refusal;
  if (firstText(posted['said']).trim() !== '' || problem.kind !== 'invalid') return refusal;
  const blank = invalid('said', 'text like mould on top', 'nothing').problem;
  return { problem: { ...problem, faults: [...('faults' in blank ? (blank.faults ?? []) : []), ...problem.faults] } };
}

/** The verdict on the readings at the time they were recorded. */
const recordedVerdict = async (principal: Principal, id: string): Promise<ReturnedJarJudged | undefined> => {
  const saved = await findRecord(readerOf(principal), 'complaint', id);
  return saved && returnedJarJudged(saved.body);
};

/** The hold has a key of its own beside the complaint's, so that the form sent twice holds once. */
async function holdForReturn(principal: Principal, posted: Posted, lot: string): Promise<string[]> {
  const context = writeContextOf(principal, posted);
  const key = context.key === undefined ? {} : { key: `${context.key}:hold` };
  const why = `a returned jar: ${firstText(posted['said'])}`;
  const done = await holdLot(principal.book, { ...context, ...key, seen: undefined }, lot, why);
  return 'problem' in done ? sentencesOf(done.problem) : [`${lot} is held, and what its syrup went into.`];
}
