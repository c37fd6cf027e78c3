import { clearanceOf } from './rules.js';
import type { Finding, TakenOffSale, Verdict } from './verdict.js';

/**
 * A verdict from its stored JSON. Until November 2026 a finding of a pack without jars on sale was stored as accepted by
 * a release, in the name of whoever took the last jars off; it is read as what it was. Where a release may accept the
 * rule, a person may have released the lot with that very reason, so the finding then names nobody.
 */
export function readVerdict(json: string): Verdict {
  const verdict = JSON.parse(json) as Verdict;
  if (!verdict.findings.some(isStoredAsAccepted)) return verdict;
  return { ...verdict, findings: verdict.findings.map(asOffSale) };
}

const storedReasons: ReadonlyMap<string, TakenOffSale['how']> = new Map([
  ['every jar of it was destroyed', 'destroyed'],
  ['every jar of it was poured back or destroyed', 'poured-back-or-destroyed'],
]);

const isStoredAsAccepted = ({ accepted }: Finding): boolean =>
  accepted !== undefined && accepted.authority === undefined && storedReasons.has(accepted.why);

function asOffSale(finding: Finding): Finding {
  const { accepted, ...rest } = finding;
  const how = accepted && storedReasons.get(accepted.why);
  if (!accepted || !how || !isStoredAsAccepted(finding)) return finding;
  const { by, at } = accepted;
  const signed = clearanceOf(finding.rule) === 'evidence' ? { ...(by ? { by } : {}), ...(at ? { at } : {}) } : {};
  return { ...rest, offSale: { how, ...signed } };
}
