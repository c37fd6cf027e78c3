import type { Dispatch } from '../season/flow.js';

/** A blank is never turned into a sale: a gift is called about in other words. */
export const howText = ({ how, laboratory }: Pick<Dispatch, 'how' | 'laboratory'>): string =>
  laboratory ? 'sample for a laboratory' : (how ?? 'how: not recorded');
