import type { Judging } from '#libs/actions/lots/judging.js';
import { judgingNow } from '#libs/actions/lots/judged-now.js';
import { type Principal, sugarhouseContextFor } from './principal.js';

/** What a page needs to judge a lot anew, with the house that this request has read. */
export const judgingFor = async (principal: Principal): Promise<Judging> =>
  judgingNow(principal.book.read, {
    ...principal.writeContext,
    houseContext: await sugarhouseContextFor(principal),
  });
