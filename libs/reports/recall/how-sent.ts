import type { Dispatch } from '../season/flow.js';

/** A blank is never shown as a sale, since a recall call about a gift is worded differently. */
export const howText = ({ how, laboratory }: Pick<Dispatch, 'how' | 'laboratory'>): string =>
  laboratory ? 'sample for a laboratory' : (how ?? 'how: not recorded');
