import { countLabels } from '#libs/actions/labels/label-count.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { balanceFrom } from '#libs/store/queries/jar-balance.js';
import { reportsWaitingOf } from '#libs/store/household/jar-reports.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { cachedWhileUnchanged } from '../../http/cached-while-unchanged.js';
import { mayWrite } from '../../http/may-write.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { sealsWait } from '../../text/seals-wait.js';
import { many } from '../../text/amounts.js';
import type { WorkInProgress } from '../returns/work-in-progress.js';
import { type PackedLot, packedLots } from './packed-lots.js';

/**
 * Jars on the shelf that may go out: those still without labels, lot by lot, and the stock by size. `mayNotLeave` are lots
 * that are open in the index and held by the rules of today.
 */
export async function shelf(
  principal: Principal,
  year: number,
  mayNotLeave: ReadonlySet<string>,
): Promise<{ unlabelled: WorkInProgress[]; stock: WorkInProgress[] }> {
  const onShelf = await cachedWhileUnchanged(principal, `shelf ${year}`, () => readShelf(principal, year, mayNotLeave));
  // Reports are no entries of the log, so the cached shelf doesn't have them.
  const reported = new Set((await reportsWaitingOf(readerOf(principal))).map(({ lot }) => lot));
  return {
    unlabelled: onShelf
      .filter(({ lot, printed }) => printed < (lot.jars ?? 0))
      .map(({ lot, onHand, printed }) => ({
        code: lot.code,
        href: `/lots/${encodeURIComponent(lot.code)}`,
        sentence: `${many(onHand, 'jar')} on hand; ${many((lot.jars ?? 0) - printed, 'label')} not printed.`,
        ...(mayWrite(principal, 'labels')
          ? { next: { href: `/lots/${encodeURIComponent(lot.code)}/labels`, text: 'Labels' } }
          : {}),
      })),
    stock: stockBySize(onShelf, reported),
  };
}

interface ShelfLot {
  readonly lot: Lot;
  readonly onHand: number;
  /** Jars with a printed label. */
  readonly printed: number;
}

/** Packs of two years that may be sent out and have jars on hand. */
async function readShelf(
  principal: Principal,
  year: number,
  mayNotLeave: ReadonlySet<string>,
): Promise<readonly ShelfLot[]> {
  const nowUtc = utcOf(principal.writeContext.now);
  const mayLeave = ({ lot }: PackedLot): boolean =>
    lot.jars !== undefined && !mayNotLeave.has(lot.code) && (lot.state === 'open' || lot.state === 'released');
  return (await packedLots(principal, year)).filter(mayLeave).flatMap(({ lot, account, runs }) => {
    const { onHand } = balanceFrom(account, nowUtc);
    return onHand > 0 ? [{ lot, onHand, printed: countLabels(runs, lot.jars ?? 0).printed }] : [];
  });
}

/** Containers grouped by kind and size, the largest number first. */
function stockBySize(
  onShelf: readonly { readonly lot: Lot; readonly onHand: number }[],
  reported: ReadonlySet<string>,
): WorkInProgress[] {
  const sizes = new Map<string, { jars: number; unchecked: number; unread: number; lots: number }>();
  for (const { lot, onHand } of onShelf) {
    const size = lot.container ?? 'container not recorded';
    const before = sizes.get(size) ?? { jars: 0, unchecked: 0, unread: 0, lots: 0 };
    sizes.set(size, {
      jars: before.jars + onHand,
      unchecked: before.unchecked + (sealsWait(lot) ? onHand : 0),
      unread: before.unread + (reported.has(lot.code) && !sealsWait(lot) ? onHand : 0),
      lots: before.lots + 1,
    });
  }
  return [...sizes]
    .sort((a, b) => b[1].jars - a[1].jars)
    .map(([size, { jars, unchecked, unread, lots }]) => ({
      code: size,
      href: `/packs?${new URLSearchParams({ q: size, sort: '-onhand' }).toString()}`,
      sentence: `${[
        ...(jars > unchecked + unread ? [`${many(jars - unchecked - unread, 'jar')} ready to send`] : []),
        ...(unread > 0 ? [`${many(unread, 'jar')} of packs with a customer’s report that nobody has read`] : []),
        ...(unchecked > 0 ? [`${many(unchecked, 'jar')} whose seals are not checked yet`] : []),
      ].join(', ')}, of ${many(lots, 'lot')}.`,
    }));
}
