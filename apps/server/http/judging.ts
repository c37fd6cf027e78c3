import type { JudgingContext } from '#libs/actions/judging/judging-context.js';
import { loadJudgingContext } from '#libs/actions/judging/judge-now.js';
import { type Principal, sugarhouseContextFor } from './principal.js';

/** What a page needs to judge a lot anew, with the house that this request has read. */
export const judgingFor = async (principal: Principal): Promise<JudgingContext> =>
  loadJudgingContext(principal.book.read, {
    ...principal.writeContext,
    houseContext: await sugarhouseContextFor(principal),
  });
