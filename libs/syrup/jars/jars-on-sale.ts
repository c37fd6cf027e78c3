import { type JarsActedOn, takesOffSale } from './acted-jars.js';
import { type JarSpan, mergedSpans } from './held-jars.js';
import { holdsAll, without } from '../quantities/jar-spans.js';
import type { Finding, TakenOffSale } from '../rules/verdict.js';

/**
 * Findings that pouring jars back doesn't end, nor destroying some of them: the cause is in the syrup, and in the other
 * jars.
 */
const persistent: readonly string[] = [
  'mould',
  'mould-looked-at',
  'spoilage-question',
  'harm-question',
  'harm-reported',
  'note-question',
  'thin-syrup-question',
  'held-upstream',
  'broken-glass',
];

export interface OffSale {
  /** Jars poured back or destroyed. */
  readonly gone: readonly JarSpan[];
  readonly jars: number | null;
  readonly actions: readonly JarsActedOn[];
  /** All its syrup was poured into other packs, which hold for its splinters by themselves. */
  readonly isPouredOn?: boolean | undefined;
}

/**
 * The findings that remain for the jars still on sale: a hold of some jars keeps those that are left; where every jar
 * is off sale, a hold of the whole pack no longer holds and stays a deviation, marked as off sale with who took the last
 * jars off. Where every jar was destroyed, no hold is left: neither jar nor syrup exists.
 */
export function jarsOnSale(findings: readonly Finding[], { gone, jars, actions, isPouredOn }: OffSale): Finding[] {
  if (gone.length === 0 || jars === null) return [...findings];
  const allGone = holdsAll(gone, [{ from: 1, to: jars }]);
  if (areAllDestroyed(actions, jars)) return asOffSale(findings, offSaleBy(actions, 'destroyed'));
  return findings.flatMap((finding) => {
    if (!finding.stop) return [finding];
    const isElsewhere = isPouredOn && finding.rule === 'broken-glass';
    if (persistent.includes(finding.rule) && !isElsewhere) return [finding];
    if (allGone) return asOffSale([finding], offSaleBy(actions, 'poured-back-or-destroyed'));
    if (!finding.jars) return [finding];
    const left = without(finding.jars, gone);
    return left.length > 0 ? [{ ...finding, jars: left }] : [];
  });
}

/** Findings of a pack whose jars were all destroyed: none of them holds any more. */
export function afterDestroying(findings: readonly Finding[], { jars, actions }: Omit<OffSale, 'gone'>): Finding[] {
  if (jars === null || !areAllDestroyed(actions, jars)) return [...findings];
  return asOffSale(findings, offSaleBy(actions, 'destroyed'));
}

function areAllDestroyed(actions: readonly JarsActedOn[], jars: number): boolean {
  const destroyed = actions.filter(({ how, clearsNothing }) => how === 'destroyed' && !clearsNothing);
  return holdsAll(mergedSpans(destroyed.flatMap((each) => each.jars)), [{ from: 1, to: jars }]);
}

function offSaleBy(actions: readonly JarsActedOn[], how: TakenOffSale['how']): TakenOffSale {
  const last = actions.findLast(takesOffSale);
  return { how, ...(last?.by ? { by: last.by } : {}), ...(last?.at ? { at: last.at } : {}) };
}

const asOffSale = (findings: readonly Finding[], offSale: TakenOffSale): Finding[] =>
  findings.map((finding) => (finding.stop ? { ...finding, stop: false, offSale } : finding));

/** `every jar of it was poured back or destroyed, the last by OE, 2026-03-20 14:00` */
export const offSaleText = ({ how, by, at }: TakenOffSale): string =>
  [
    how === 'destroyed' ? 'every jar of it was destroyed' : 'every jar of it was poured back or destroyed',
    ...(by ? [`the last by ${by}`] : []),
    ...(at ? [at.slice(0, 16).replace('T', ' ')] : []),
  ].join(', ');
