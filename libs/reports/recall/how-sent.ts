import type { Dispatch } from '../season/flow.js';

/** A blank is never turned into a sale: a gift is called about in other words. */
export const howWords = ({ how }: Pick<Dispatch, 'how'>): string => how ?? 'how: not recorded';
