import { judgeComplaint, returnedJarFields } from '#libs/actions/kinds/complaint.js';
import { readFields } from '#libs/actions/record/read-fields.js';
import { type Refusal, unknown } from '#libs/actions/record/problem.js';
import { lookUpLot } from '#libs/actions/record/references.js';
import { momentIn } from '#libs/actions/record/times.js';
import { type Trace, traceLot } from '#libs/actions/lots/trace-lot.js';
import { findJar, findLot, findRecord } from '#libs/store/queries/lots.js';
import type { ReturnedJarJudged } from '#libs/syrup/contents/judge-complaint.js';
import { formatTemperature, formatDensity } from '#libs/syrup/quantities/format-quantities.js';
import { printedJarCode, readJarCode } from '#libs/syrup/codes/jar-codes.js';
import { codeInScan } from '../find/find-page.js';
import { type FormContext, formContext, formGroups, problemView, type SubmittedForm } from '../../forms/form-view.js';
import { postedFields } from '../../forms/posted-fields.js';
import { lastSeenFor } from '../../forms/last-seen.js';
import { cautionsFor } from '../../text/cautions.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { many } from '../../text/amounts.js';
import { momentText } from '../../text/times.js';
import { returnFields } from './return-fields.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** The page that asks which jar was returned; `typed` is a code that was not found. */
export const returnStartPage = (typed: string) => ({
  title: 'A customer returns a bad jar',
  here: 'find',
  typed,
  nothingFound: typed !== '',
});

/** The jar, or the pack where only the lot code can still be read; undefined where the book has neither. */
export async function findReturned(principal: Principal, typed: string): Promise<string | undefined> {
  const { sugarhouse } = principal.writeContext;
  const code = codeInScan(typed);
  const jarCode = readJarCode(code);
  const jar = jarCode === undefined ? undefined : await findJar(principal.book.read, jarCode);
  if (jar?.sugarhouse === sugarhouse) return printedJarCode(jar.code);
  const lot = await lookUpLot(sugarhouseReader(principal.book.read, sugarhouse), code);
  return lot?.kind === 'pack' ? lot.code : undefined;
}

/** What to inspect, in order, with the retained sample to compare with. */
export async function returnPage(principal: Principal, code: string, sent: SubmittedForm) {
  const trace = await traceLot(readerOf(principal), code, principal.writeContext.now);
  if ('problem' in trace) return trace;
  if (!trace.pack) return unknown('jar or pack', code) satisfies Refusal;
  const seen = await lastSeenFor(principal, sent.problem, trace.pack);
  const houseContext = await formContext(principal);
  const named = trace.jar?.printed ?? trace.pack;
  return {
    title: `${named} returned`,
    here: 'find',
    named,
    href: trace.jar ? `/jars/${named}` : `/lots/${named}`,
    pack: trace.pack,
    status: trace.status,
    made: many(trace.jars.made, 'jar'),
    sentOut: trace.jars.sentOut,
    retained: retainedSamples(trace, momentIn(houseContext.parseOptions.zone, principal.writeContext.now)),
    packedAt: await packedDensity(principal, trace.pack),
    judged: typedVerdict(houseContext, sent),
    cautions: cautionsFor('sell'),
    form: {
      action: `/returns/${encodeURIComponent(named)}`,
      takesPhoto: true,
      submitLabel: 'Save',
      draft: `came-back-${named}`,
      ...seen,
      problem: problemView(sent.problem, returnFields),
      groups: formGroups(returnFields, steps, houseContext, sent),
    },
  };
}

/** The pack's density when it was packed, to compare the new reading with. */
async function packedDensity(principal: Principal, pack: string): Promise<string> {
  const { sugarhouse } = principal.writeContext;
  const body = (await findRecord(sugarhouseReader(principal.book.read, sugarhouse), 'pack', pack))?.body;
  if (!body?.densityReading) return '';
  const verdict = (await findLot(sugarhouseReader(principal.book.read, sugarhouse), pack))?.verdict;
  const brix = verdict?.brix ?? null;
  const at = body.densityAt ? ` at ${formatTemperature(body.densityAt)}` : '';
  return `${formatDensity(body.densityReading)}${at}${brix === null ? '' : `, ${brix.toFixed(1)} °Bx at 20 °C`}`;
}

/** The verdict on what was typed so far, shown before the question whether to hold the lot. */
function typedVerdict(houseContext: FormContext, { posted }: SubmittedForm): ReturnedJarJudged | undefined {
  if (!posted) return undefined;
  const { parseOptions } = houseContext;
  const read = readFields(returnedJarFields, postedFields(returnedJarFields, posted, parseOptions), parseOptions);
  // A form sent without any of them has nothing to judge.
  if ('faults' in read || Object.keys(read.typed).length === 0) return undefined;
  return judgeComplaint(read.body, houseContext);
}

/** Where a retained sample of the same lot is kept. */
const retainedSamples = (trace: Trace, now: string) =>
  trace.dispatches
    .filter((each) => each.kind === 'retained' && !each.planned && each.lot === trace.pack)
    .map((each) => ({
      where: each.to,
      jars: many(each.jars, 'jar'),
      when: momentText(each.sentAt, now),
      codes: each.codes,
    }));

const steps = [
  { legend: '1. Who and what', names: ['said', 'from'] },
  {
    legend: '2. The seal',
    text: 'Before it is opened: is the lid down, does it give under a finger, is there a leak or a swelling? A jar that swells is not opened.',
    names: ['seal'],
  },
  { legend: '3. Mould', text: 'On top, at the rim, under the lid. Don’t taste it.', names: ['mould', 'came'] },
  { legend: '4. Smell', text: 'Beside the retained sample. Don’t taste it.', names: ['smell'] },
  {
    legend: '5. Density now',
    text: 'Hydrometer and thermometer read at the same moment, as on the packing day. Only what was read.',
    names: ['density', 'densityAt', 'densityBy'],
  },
  {
    folded: 'A hydrometer made for another temperature, which instrument',
    names: ['densityCalibratedAt', 'instruments'],
  },
  {
    legend: '6. The lot',
    text: 'To see first what the readings mean, leave this blank and press Save: nothing is saved until you answer.',
    names: ['hold'],
    decided:
      'Save holds the lot, and every lot that its syrup went into: what you recorded above is a sign of spoilage, or nobody knows whether it is. Then inspect other jars of it and record how many were mouldy and how many sound.',
  },
  { legend: '7. What was done', names: ['done', 'note'] },
  { folded: 'Your own lot number, initials', names: ['id', 'by'] },
];
