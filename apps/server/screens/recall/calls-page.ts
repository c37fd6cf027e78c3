import { recallCallFields } from '#libs/actions/recall/recall-call.js';
import {
  type Call,
  callMadeText,
  callsOf,
  isSamePlace,
  returnedText,
  sentText,
} from '#libs/reports/recall/recall-calls.js';
import { recallList } from '#libs/actions/recall/recall-list.js';
import { howText } from '#libs/reports/recall/how-sent.js';
import { momentIn } from '#libs/actions/record/times.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import type { Recall } from '#libs/reports/recall/recall.js';
import type { Dispatch } from '#libs/reports/season/flow.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { formContext, formGroups, problemView, type SubmittedForm } from '../../forms/form-view.js';
import { mayWrite } from '../../http/may-write.js';
import type { Principal } from '../../http/principal.js';
import { many } from '../../text/amounts.js';
import { pageOfRows } from '../../text/paged-rows.js';
import { dayText, withDaysAsText } from '../../text/times.js';

/** The recall of these lots, for its list and its call list. */
export const loadRecall = (principal: Principal, codes: readonly string[]): Promise<Recall | undefined> =>
  recallList(principal.book, principal.writeContext, codes, { members: principal.readsAll });

/** The call list: each place that has jars, its telephone, and two buttons that record who called and when. */
export async function callsPage(principal: Principal, codes: readonly string[], request: Posted) {
  const recall = await loadRecall(principal, codes);
  if (!recall) return undefined;
  const calls = callsOf(recall);
  const now = momentIn((await formContext(principal)).parseOptions.zone, principal.writeContext.now);
  const lots = codes.map((code): [string, string] => ['lot', code]);
  const query = new URLSearchParams(lots).toString();
  const rows = calls.map((call) => ({
    ...call,
    jarsText: many(call.jars, 'jar'),
    sentText: [...call.sent.map(sentText), ...call.returned.map(returnedText)].map((each) => withDaysAsText(each, now)),
    madeText: call.made.map((made) => withDaysAsText(callMadeText(made), now)),
    doubt: keptApartDoubt(call),
    form: `/recall/call?${query}&${new URLSearchParams({ to: call.to }).toString()}`,
    dial: dialNumber(call.telephone),
  }));
  return {
    title: `Call list: recall of ${recall.from}`,
    here: 'find',
    query,
    why: recall.why,
    hazard: recall.hazard,
    authorities: recall.authorities,
    reached: calls.filter((call) => call.reached).length,
    countText: many(calls.length, 'call'),
    setApartText: setApartText(calls),
    mayCall: mayWrite(principal, 'recall-call'),
    calls: pageOfRows(rows, firstText(request['calls']), {
      address: '/recall/calls',
      param: 'calls',
      noun: 'call',
      beside: lots,
    }),
  };
}

/** What a buyer said last of the jars that it has set apart; undefined where no call recorded a number. */
const lastSetApart = ({ made }: Call): number | undefined =>
  made.findLast(({ keptApart }) => keptApart !== null)?.keptApart ?? undefined;

/** `29 of 32 jars set apart, by what the buyers said.`; blank where no call recorded a number. */
function setApartText(calls: readonly Call[]): string {
  const said = calls.map(lastSetApart).filter((jars) => jars !== undefined);
  if (said.length === 0) return '';
  const [apart, all] = [said.reduce((sum, jars) => sum + jars, 0), calls.reduce((sum, { jars }) => sum + jars, 0)];
  return `${apart} of ${many(all, 'jar')} set apart, by what the buyers said.`;
}

/** More set apart than were sent there: a typing mistake, or jars of another lot. */
function keptApartDoubt(call: Call): string {
  const apart = lastSetApart(call);
  return apart === undefined || apart <= call.jars
    ? ''
    : `${many(apart, 'jar')} set apart is more than the ${call.jars} that they have by the records: is the number right, and what are the lot codes?`;
}

/** What a phone dials; blank where there is no number, or where words are beside it. */
const dialNumber = (telephone: string | null | undefined): string =>
  /^[\d\s()+.-]{7,}$/.test(telephone ?? '') ? (telephone ?? '').replace(/[^\d+]/g, '') : '';

/** What to say, from what is recorded: nothing is added that nobody wrote. */
function callScript(recall: Recall, call: Call | undefined, house: string): string[] {
  const { hazard, whoMayBeHurt, whatToDo } = recall.hazard;
  return [
    `This is ${house || 'the sugarhouse'}. ${recall.startedAt === null ? 'I am calling about maple syrup that you have from us.' : `We are recalling maple syrup that you have from us: ${recall.why.replace(/[.\s]+$/, '')}.`}`,
    ...(call?.sent.map(receivedText) ?? []),
    ...(call?.returned.map(
      ({ jars, lot, sentAt }) => `${many(jars, 'jar')} of lot ${lot} came back on ${dayText(sentAt)}.`,
    ) ?? []),
    ...(hazard ? [`The hazard: ${hazard}.`] : []),
    ...(whoMayBeHurt ? [`Who may be hurt: ${whoMayBeHurt}.`] : []),
    whatToDo
      ? `Please do this with the jars: ${whatToDo}.`
      : 'Please set the jars apart: do not sell, give or eat them.',
    'How many are left, and who has the others? Please read me the lot code on a label.',
  ];
}

/** `You received 9 jars of lot 26115X-1 on 30 May 2026 (sale).`: a dispatch as it is read out on the telephone. */
function receivedText(sent: Dispatch): string {
  const codes = sent.jarCodes.length === 0 ? '' : ` (${sent.jarCodes.map(printedJarCode).join(', ')})`;
  const jars = `${many(sent.jars, 'jar')} of lot ${sent.lot}${codes}`;
  const on = dayText(sent.sentAt);
  return sent.planned
    ? `We planned to send you ${jars} on ${on}, and did not record whether they left. Did you receive them?`
    : `You received ${jars} on ${on}${sent.how === null ? '' : ` (${howText(sent)})`}.`;
}

/** The form for one call, with every detail that can be recorded. */
export async function callFormPage(
  principal: Principal,
  codes: readonly string[],
  to: string,
  sent: SubmittedForm = {},
) {
  const houseContext = await formContext(principal);
  const query = new URLSearchParams(codes.map((code): [string, string] => ['lot', code])).toString();
  const recall = await loadRecall(principal, codes);
  const call = recall && callsOf(recall).find((each) => isSamePlace(each.to, to));
  const number = dialNumber(call?.telephone);
  return {
    title: `Call to ${to}`,
    here: 'find',
    crumb: { href: `/recall/calls?${query}`, text: 'Call list' },
    sentence: 'Ask how many jars are left, and ask to set them apart.',
    firstStep: number ? { href: `tel:${number}`, text: `Call ${call?.telephone ?? ''}` } : undefined,
    notes: number ? [] : [noNumberText(call?.telephone ?? call?.contact)],
    phoneScript: recall ? callScript(recall, call, houseContext.house?.name ?? '') : [],
    form: {
      action: `/recall/call?${query}&${new URLSearchParams({ to }).toString()}`,
      submitLabel: 'Save the call',
      second: number !== '',
      problem: problemView(sent.problem, recallCallFields),
      groups: formGroups(
        recallCallFields,
        [
          { names: ['reached', 'spokeTo', 'keptApart', 'telephone', 'note', 'at'] },
          { folded: 'Initials', names: ['by'] },
        ],
        houseContext,
        sent,
        { when: 'live' },
      ),
    },
  };
}

const noNumberText = (contact: string | null | undefined): string =>
  !contact ? 'No telephone number is recorded.' : `No telephone number is recorded, only: ${contact}.`;
