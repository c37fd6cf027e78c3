import type { Book } from '#libs/store/book.js';
import type { WriteContext } from '../record/write-context.js';
import { type Refusal, refused } from '../record/problem.js';
import { changeStatus, type DecideStates, type StatusChanged } from './change-status.js';

/** Holds a lot and everything its syrup went into. */
export const holdLot = (
  book: Book,
  context: WriteContext,
  code: string,
  why: string,
): Promise<StatusChanged | Refusal> =>
  changeStatus(book, context, { lot: code, why, entryType: 'hold', decide: decideHold });

const decideHold: DecideStates = ({ lot, at }) =>
  Promise.resolve(
    lot.state === 'recalled'
      ? refused('recalled', `${lot.code} is recalled, so it is held already.`)
      : { judged: [{ lot: lot.code, state: 'held', heldSince: lot.state === 'held' ? lot.heldSince : at }] },
  );
