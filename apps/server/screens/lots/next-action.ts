import { isQuestion } from '#libs/actions/kinds/answer.js';
import { allGoneReason, areAllGone } from '#libs/actions/jars/all-gone.js';
import type { LabelCount } from '#libs/actions/labels/label-count.js';
import { clearanceOf } from '#libs/syrup/rules/rules.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';
import type { BoilBody } from '#libs/records/kinds/boil.js';
import type { Lot } from '#libs/store/queries/lots.js';
import type { NextAction } from '#pages/parts/next-action.js';
import { mayWrite } from '../../http/may-write.js';
import type { Principal } from '../../http/principal.js';
import { many } from '../../text/amounts.js';

const addressOf = (lot: Lot): string => `/lots/${encodeURIComponent(lot.code)}`;

/** A lot that only needs a release: no hold rule is broken, or only ones that a release with a reason clears. */
const onlyAwaitsRelease = (findings: readonly Finding[]): boolean =>
  findings.every(({ stop, rule }) => !stop || clearanceOf(rule) !== 'evidence');

/** Whether nothing but a maker's release is missing. */
export const awaitsRelease = (lot: Lot): boolean => onlyAwaitsRelease(lot.verdict?.findings ?? []);

/** No jar is left and no hold either: a release closes it. */
export const isClosedByRelease = (lot: Lot): boolean => areAllGone(lot) && awaitsRelease(lot);

/** The next step for a lot that is held or recalled, whatever its kind; `undefined` where the usual work continues. */
function nextActionWhenStopped(principal: Principal, lot: Lot): NextAction | undefined {
  if (lot.state === 'recalled')
    return { href: `/recall/calls?lot=${encodeURIComponent(lot.code)}`, text: 'Recall calls' };
  if (lot.state !== 'held') return undefined;
  const findings = lot.verdict?.findings ?? [];
  if (isClosedByRelease(lot) && mayWrite(principal, 'mark'))
    return { href: `${addressOf(lot)}/release`, post: { why: allGoneReason }, text: 'All jars are gone: close it' };
  if (onlyAwaitsRelease(findings))
    return mayWrite(principal, 'mark')
      ? { href: `${addressOf(lot)}/release`, text: 'Release' }
      : { text: 'A maker can release it.' };
  const source = findings.find(({ stop, rule }) => stop && rule === 'held-upstream')?.found ?? '';
  const [, upstream, status] = /^(\S+), which it was drawn from, was (held|recalled)/.exec(source) ?? [];
  const own = findings.filter(({ stop, rule }) => stop && rule !== 'held-upstream');
  // A recalled lot is never released, so there is nothing to do on its page.
  if (status === 'recalled' && own.length === 0)
    return mayWrite(principal, 'mark')
      ? { href: `${addressOf(lot)}/recall`, text: 'Recall this one too' }
      : { text: 'A maker recalls it too, or records that its jars were destroyed.' };
  if (upstream && own.length === 0) return { href: `/lots/${encodeURIComponent(upstream)}`, text: `Go to ${upstream}` };
  return undefined;
}

const mayHurtBuyers = ({ verdict }: Lot): boolean =>
  verdict?.findings.some(({ stop, rule }) => stop && ['harm-reported', 'harm-in-same-syrup', 'mould'].includes(rule)) ??
  false;

const isSettledByLabels = (rule: string): boolean =>
  rule === 'undeclared-allergen' || rule === 'label-net-quantity' || clearanceOf(rule) !== 'evidence';

export interface PackWork {
  readonly underway: boolean;
  readonly pending: { readonly density: boolean; readonly seals: boolean };
  readonly labels: LabelCount | undefined;
  readonly onHand: number;
  /** With buyers by the records: sold, given or sampled, and not returned. */
  readonly sentOut: number;
  /** Every jar was destroyed, broken or poured back: a held lot has nothing left to act on. */
  readonly isGone: boolean;
}

/** The next thing to do with a pack, with its address; undefined while it is being filled or nothing is left to do. */
export function nextPackAction(principal: Principal, lot: Lot, work: PackWork): NextAction | undefined {
  if (work.underway) return undefined;
  const address = addressOf(lot);
  const step = (name: string): string => `/packs/${encodeURIComponent(lot.code)}/${name}`;
  if (lot.state === 'held' && work.isGone && !isClosedByRelease(lot)) return undefined;
  // An owner can still release it with the authority's answer; people who have its jars come first.
  if (lot.state === 'held' && work.sentOut > 0 && mayHurtBuyers(lot) && mayWrite(principal, 'mark'))
    return { href: `${address}/recall`, text: `Recall: ${many(work.sentOut, 'jar')} out` };
  const stopped = nextActionWhenStopped(principal, lot);
  if (stopped) return stopped;
  const mayStep = mayWrite(principal, 'pack underway');
  if (lot.state === 'held') {
    const holds = lot.verdict?.findings.filter(({ stop }) => stop) ?? [];
    const stops = new Set(holds.map(({ rule }) => rule));
    if (work.pending.density && stops.size === 1 && stops.has('density-not-read') && mayStep)
      return { href: step('density'), text: 'Read the density' };
    // Where the sugarhouse hasn't answered, the finding asks it with buttons.
    if (stops.size === 1 && stops.has('hydrometer-temperature') && mayStep)
      return { href: step('density'), text: 'Hydrometer of this reading' };
    // The findings ask them with buttons.
    if (stops.size > 0 && [...stops].every(isQuestion) && mayWrite(principal, 'answer'))
      return { href: `${address}#findings`, text: `Answer the question${holds.length > 1 ? 's' : ''}` };
    if (stops.size === 1 && stops.has('bought-syrup-allergens') && mayWrite(principal, 'receipt'))
      return { href: `${address}#findings`, text: 'Allergens of the bought syrup' };
    // Two figures of the record contradict each other: correct one of them first, since the work itself may have been
    // right.
    if (stops.size === 1 && stops.has('more-in-jars-than-drawn') && mayWrite(principal, 'correction'))
      return { href: `/records/pack/${encodeURIComponent(lot.code)}/correct`, text: 'Correct the jars or the syrup' };
    // Buyers who eat what no label declares come before the jars on the shelf.
    if (stops.has('undeclared-allergen-sent') && mayWrite(principal, 'mark'))
      return { href: `${address}/recall`, text: 'Recall' };
    // Labels come first where nothing else needs new evidence; then a maker releases the lot.
    if ([...stops].every(isSettledByLabels) && mayWrite(principal, 'labels'))
      return { href: `${address}/labels`, text: 'Print new labels' };
    return mayWrite(principal, 'action')
      ? { href: `${address}/act`, text: 'Corrective action' }
      : { text: 'A maker records the corrective action.' };
  }
  if (work.pending.seals && mayStep) return { href: step('seals'), text: 'Check the seals' };
  if (work.onHand < 1) return undefined;
  if (work.labels && work.labels.printed < work.labels.jars && mayWrite(principal, 'labels'))
    return { href: `${address}/labels`, text: 'Labels' };
  return mayWrite(principal, 'dispatch')
    ? { href: `/dispatches/new?lot=${encodeURIComponent(lot.code)}`, text: 'Send out' }
    : undefined;
}

/** The next thing to do with a boil, with its address; undefined where nothing is left to do. */
export function nextBoilAction(
  principal: Principal,
  lot: Lot,
  boil: BoilBody,
  { mayPack }: { readonly mayPack: boolean },
): NextAction | undefined {
  const isBoiling = !boil.finishedAt && !boil.syrupVolume;
  if (isBoiling) return undefined;
  // An amount is probably wrong, or what was left in the pans is missing: correcting comes before releasing.
  const holds = (lot.verdict?.findings ?? []).filter(({ stop }) => stop);
  if (
    lot.state === 'held' &&
    holds.length > 0 &&
    holds.every(({ rule }) => rule === 'more-sugar-than-came-in') &&
    mayWrite(principal, 'correction')
  )
    return { href: `/records/boil/${encodeURIComponent(lot.code)}/correct`, text: 'Correct the amounts' };
  const stopped = nextActionWhenStopped(principal, lot);
  if (stopped) return stopped;
  if (!mayWrite(principal, 'boil underway')) return undefined;
  if (!boil.syrupVolume) return { href: `/boils/${encodeURIComponent(lot.code)}/log/finish`, text: 'Syrup made' };
  if (lot.state === 'held') return { href: `${addressOf(lot)}/why`, text: 'See what holds it' };
  return mayPack ? { href: `/packs/begin?from=${encodeURIComponent(lot.code)}`, text: 'Pack this syrup' } : undefined;
}
