import { home } from '#libs/store/household/houses.js';
import { memberLots } from '#libs/store/queries/member-lots.js';
import { ofKind } from '#libs/store/queries/trace.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { prefixedLot } from '#libs/syrup/codes/lot-codes.js';
import { heldUpstream } from '#libs/syrup/rules/entry-findings.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';
import type { JudgingContext } from './judging-context.js';

/**
 * Holds of other sugarhouses in this book on lots that a pack's bought syrup came from. They hold the packs of the packer
 * only, who may read every member's records: in a member's book they would show the state of a lot that isn't theirs.
 */
export async function memberHolds({ sql, sugarhouse }: JudgingContext, upstream: readonly Lot[]): Promise<Finding[]> {
  if (sugarhouse !== home) return [];
  const receipts = ofKind(upstream, 'receipt').map(({ code }) => code);
  const members = await memberLots({ sql, sugarhouse }, receipts);
  return members.flatMap(({ house, lot, upstream: theirs }) => {
    const stopping = theirs.filter(
      ({ code, state }) => state === 'recalled' || (state === 'held' && code === lot?.code),
    );
    return stopping.map(({ code, state }) =>
      heldUpstream({
        upstream: prefixedLot(house.prefix, code),
        status: state === 'recalled' ? 'recalled' : 'held',
        why: `by ${house.name}`,
      }),
    );
  });
}
