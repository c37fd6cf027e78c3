import { foundAndRequired } from '#libs/format/as-sentence.js';
import { reportsAlreadyLeft } from '#libs/actions/kinds/acknowledgement.js';
import { heldByTodaysRules, plansOfHeldLots } from '#libs/actions/lots/held-now.js';
import { returnsToInspect } from '#libs/actions/jars/returns-to-inspect.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { judgingFor } from '../../http/judging.js';
import type { Principal } from '../../http/principal.js';
import { many } from '../../text/amounts.js';
import { withBoxNames } from '../../text/box-names.js';
import { dayText } from '../../text/times.js';
import type { WorkInProgress } from '../returns/work-in-progress.js';

/** These can wait for the work in progress; the other groups cannot. */
export const returnedTitle = 'Returned, to be inspected';

const dispatchAddress = (id: string): string => `/records/dispatch/${encodeURIComponent(id)}`;

/** The rows of Today about jars that have left, were returned, or may no longer leave. */
export async function goingOutGroups(
  principal: Principal,
  now: string,
): Promise<{ title: string; rows: WorkInProgress[] }[]> {
  const { read } = principal.book;
  const { sugarhouse } = principal.writeContext;
  const judging = await judgingFor(principal);
  const reader = { sql: read, sugarhouse };
  const [alreadyLeft, plans, heldNow, returns] = await Promise.all([
    reportsAlreadyLeft(reader),
    plansOfHeldLots(reader),
    heldByTodaysRules(principal.book, judging),
    returnsToInspect(reader, principal.writeContext.now),
  ]);
  const left = alreadyLeft.filter(({ acknowledged }) => !acknowledged);
  return [
    {
      title: 'Left while held, to be initialled',
      rows: left.map(({ dispatch: { id, body } }) => ({
        code: id,
        href: dispatchAddress(id),
        sentence: `${many(body.jars, 'jar')} of ${body.lot} went to ${body.to} ${dayText(body.sentAt, now)}, reported by ${body.by}. A maker must initial it.`,
      })),
    },
    {
      title: 'Planned, but may not leave',
      rows: plans.map(([plan, lot]) => ({
        code: plan.id,
        href: dispatchAddress(plan.id),
        sentence: `${many(plan.jars, 'jar')} of ${lot.code} for ${plan.to} ${dayText(plan.sentAt, now)}: ${stopReason(lot)}`,
        state: lot.state,
      })),
    },
    {
      title: 'Held by the current rules',
      rows: heldNow.map((lot) => {
        const stop = lot.verdict?.findings.find((finding) => finding.stop);
        return {
          code: lot.code,
          href: `/lots/${lot.code}`,
          sentence:
            `It was judged by older rules. By the rules of today it may not be sent out. ${foundAndRequired({ found: stop?.found ?? 'nothing', limit: stop?.limit ?? 'nothing' })} ${withBoxNames(stop?.wayOut ?? '')}`.trim(),
          state: 'held',
        };
      }),
    },
    {
      title: returnedTitle,
      rows: returns.map((each) => ({
        code: each.id,
        href: dispatchAddress(each.id),
        sentence: `${many(each.jars, 'jar')} of ${each.lot} returned from ${each.to} ${dayText(each.sentAt, now)}, set apart: still sealed, and how were they kept?`,
        next: { href: `/dispatches/${encodeURIComponent(each.id)}/inspection`, text: 'Inspect them' },
      })),
    },
  ];
}

/** Jars of a stopped plan count as still here until a record says what became of them. */
const stopReason = (lot: Lot): string =>
  lot.state === 'open' || lot.state === 'released'
    ? `${lot.code} was held after this was planned, so these jars count as still here. Correct the plan: when they left, or 0 jars.`
    : `${lot.code} is ${lot.state}, so these jars count as still here. Release it first, or correct the plan to 0 jars. If they have left, say so on the plan.`;
