import { formatSpans } from '#libs/syrup/jars/jar-spans.js';
import { offSaleText } from '#libs/syrup/jars/jars-on-sale.js';
import type { Acceptance, Finding } from '#libs/syrup/rules/verdict.js';
import type { LotFinding } from '#libs/reports/season/lot.js';

/** A finding as documents print it: which jars it holds, what clears the hold, and why it holds no longer. */
export function findingOf({ rule, stop, limit, found, source, jars, wayOut, accepted, offSale }: Finding): LotFinding {
  return {
    rule,
    stop,
    limit,
    found,
    source,
    ...(jars && jars.length > 0 ? { jars: formatSpans(jars) } : {}),
    ...(wayOut ? { wayOut } : {}),
    ...(accepted ? { accepted: acceptanceText(accepted) } : {}),
    ...(offSale ? { offSale: offSaleText(offSale) } : {}),
  };
}

/** `the yield was measured twice; asked the state laboratory 2026-04-02: may be sold`. */
export const acceptanceText = ({ why, authority, askedAt, answer }: Omit<Acceptance, 'by' | 'at'>): string =>
  [
    why,
    ...(authority
      ? [`asked ${authority}${askedAt ? ` ${askedAt.slice(0, 10)}` : ''}: ${answer ?? 'no answer recorded'}`]
      : []),
  ].join('; ');
