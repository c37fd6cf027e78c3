import { type JarAction, takesOffSale } from './judge-action.js';
import { type JarSpan, mergeSpans, coversSpans, subtractSpans } from './jar-spans.js';
import type { Finding, TakenOffSale } from '../rules/verdict.js';

/** Rules whose cause is in the syrup and the other jars, so that pouring jars back or destroying some clears nothing. */
const stayWithSyrup: readonly string[] = [
  'mould',
  'mould-looked-at',
  'spoilage-question',
  'harm-question',
  'harm-reported',
  'harm-in-same-syrup',
  'note-question',
  'thin-syrup-question',
  'held-upstream',
  'broken-glass',
];

/** What was taken off sale in a pack. */
export interface OffSale {
  /** Jars poured back or destroyed. */
  readonly gone: readonly JarSpan[];
  /** How many jars the pack has; null while it is being filled. */
  readonly jars: number | null;
  readonly actions: readonly JarAction[];
  /** All its syrup was poured into other packs, which are held for its splinters instead. */
  readonly isPouredIntoOthers?: boolean | undefined;
}

/**
 * Limits findings to the jars still on sale: a hold of some jars keeps only those left. Where every jar is off sale, a
 * hold becomes a deviation that no longer holds, marked with who took the last jars off. Where every jar was destroyed,
 * that applies to all holds.
 */
export function jarsOnSale(
  findings: readonly Finding[],
  { gone, jars, actions, isPouredIntoOthers }: OffSale,
): Finding[] {
  if (gone.length === 0 || jars === null) return [...findings];
  const allGone = coversSpans(gone, [{ from: 1, to: jars }]);
  if (areAllDestroyed(actions, jars)) return asOffSale(findings, offSaleBy(actions, 'destroyed'));
  return findings.flatMap((finding) => {
    if (!finding.stop) return [finding];
    const isElsewhere = isPouredIntoOthers && finding.rule === 'broken-glass';
    if (stayWithSyrup.includes(finding.rule) && !isElsewhere) return [finding];
    if (allGone) return asOffSale([finding], offSaleBy(actions, 'poured-back-or-destroyed'));
    if (!finding.jars) return [finding];
    const left = subtractSpans(finding.jars, gone);
    return left.length > 0 ? [{ ...finding, jars: left }] : [];
  });
}

/** Findings of a pack whose jars were all destroyed: none of them holds any more. */
export function afterDestroying(findings: readonly Finding[], { jars, actions }: Omit<OffSale, 'gone'>): Finding[] {
  if (jars === null || !areAllDestroyed(actions, jars)) return [...findings];
  return asOffSale(findings, offSaleBy(actions, 'destroyed'));
}

function areAllDestroyed(actions: readonly JarAction[], jars: number): boolean {
  const destroyed = actions.filter(({ how, clearsNothing }) => how === 'destroyed' && !clearsNothing);
  return coversSpans(mergeSpans(destroyed.flatMap((each) => each.jars)), [{ from: 1, to: jars }]);
}

function offSaleBy(actions: readonly JarAction[], how: TakenOffSale['how']): TakenOffSale {
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
