import { recallCallFields } from '#libs/actions/recall/recall-call.js';
import { callMadeText, callsOf, sentText } from '#libs/reports/recall/recall-calls.js';
import { recallList } from '#libs/actions/recall/recall-list.js';
import type { Recall } from '#libs/reports/recall/recall.js';
import { one, type Posted } from '../../forms/field-view.js';
import { formContext, formGroups, problemView, type Sent } from '../../forms/form-view.js';
import { mayWrite } from '../../http/may-write.js';
import type { Principal } from '../../http/principal.js';
import { many } from '../../text/amounts.js';
import { firstHundred } from '../../text/first-hundred.js';

/** The recall of these lots, for its list and its call list. */
export const recallFrom = (principal: Principal, codes: readonly string[]): Promise<Recall | undefined> =>
  recallList(principal.book, principal.writeContext, codes, { members: principal.readsAll });

/** The call list: each place that has jars, its telephone, and two buttons that record who called and when. */
export async function callsPage(principal: Principal, codes: readonly string[], request: Posted) {
  const recall = await recallFrom(principal, codes);
  if (!recall) return undefined;
  const calls = callsOf(recall);
  const lots = codes.map((code): [string, string] => ['lot', code]);
  const query = new URLSearchParams(lots).toString();
  const rows = calls.map((call) => ({
    ...call,
    jarsText: many(call.jars, 'jar'),
    sentText: call.sent.map(sentText),
    madeText: call.made.map(callMadeText),
    form: `/recall/call?${query}&${new URLSearchParams({ to: call.to }).toString()}`,
    dial: /^[\d\s()+.-]{7,}$/.test(call.telephone ?? '') ? (call.telephone ?? '').replace(/[^\d+]/g, '') : '',
  }));
  return {
    title: `Call list: recall of ${recall.from}`,
    here: 'find',
    query,
    why: recall.why,
    hazard: recall.hazard,
    authorities: recall.authorities,
    reached: calls.filter((call) => call.reached).length,
    said: many(calls.length, 'call'),
    mayCall: mayWrite(principal, 'recall-call'),
    calls: firstHundred(rows, one(request['calls']), {
      address: '/recall/calls',
      param: 'calls',
      noun: 'call',
      beside: lots,
    }),
  };
}

/** The form for one call, with every detail that can be recorded. */
export async function callFormPage(principal: Principal, codes: readonly string[], to: string, sent: Sent = {}) {
  const houseContext = await formContext(principal);
  const query = new URLSearchParams(codes.map((code): [string, string] => ['lot', code])).toString();
  return {
    title: `Call to ${to}`,
    here: 'find',
    crumb: { href: `/recall/calls?${query}`, text: 'Call list' },
    sentence: 'Ask how many jars are left and to keep them apart.',
    form: {
      action: `/recall/call?${query}&${new URLSearchParams({ to }).toString()}`,
      submitLabel: 'Save the call',
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
