import type { Book } from '#libs/store/book.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import { readHead } from '#libs/store/log/log.js';
import { lotsOf } from '#libs/store/queries/lots.js';
import { addPerson } from '../accounts/accounts.js';
import { practiceSteps, practiceZone } from './practice-steps.js';
import type { PracticeStep } from './practice-rows.js';
import { type Refusal, refused, sentencesOf } from '../record/problem.js';
import { record } from '../record/record.js';
import { dispatches } from '../kinds/dispatch.js';
import { momentIn } from '../record/times.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export interface PracticeSeason {
  readonly entries: number;
  readonly boils: number;
  readonly packs: number;
}

const sugarhouse = 'home';

/**
 * Writes the invented season of templates/practice/ into an empty book: all of it or nothing. Each entry is dated when
 * it happened; only the planned market day depends on `now`.
 */
export async function writePracticeSeason(book: Book, now: Date): Promise<PracticeSeason | Refusal> {
  const steps = practiceSteps();
  const written = await book.write(async (tx): Promise<PracticeSeason | Refusal> => {
    const { entries } = await readHead(tx.sql);
    if (entries > 0)
      return refused(
        'not-empty',
        `The practice season is written into an empty book, and this one has ${entries} ${entries === 1 ? 'entry' : 'entries'}. Set BOILBOOK_DATA to a new folder.`,
      );
    const transactionBook = bookInTransaction(book, tx);
    let last = 0;
    for (const step of [...steps, ...plannedMarketDay(steps, now)]) last = await runStep(transactionBook, step);
    const boils = await lotsOf(sugarhouseReader(tx.sql, sugarhouse), 'boil');
    const packs = await lotsOf(sugarhouseReader(tx.sql, sugarhouse), 'pack');
    return { entries: last, boils: boils.length, packs: packs.length };
  });
  if ('problem' in written) return written;
  for (const person of people) await addPerson(book, sugarhouse, person);
  return written;
}

/** The book for steps that begin their own write, run inside the one open transaction for all of them. */
const bookInTransaction = (book: Book, tx: WriteTransaction): Book => ({
  ...book,
  read: tx.sql,
  write: (work) => work(tx),
  snapshot: (work) => work(tx.sql),
});

/** A refusal here is a fault in the season's files: throws, and nothing is written. */
async function runStep(book: Book, { at, by, from, write }: PracticeStep): Promise<number> {
  const answer = await write(book, { sugarhouse, by, author: by, now: at, zone: practiceZone, from });
  if ('problem' in answer)
    throw new Error(`The practice season at ${at.toISOString()}: ${sentencesOf(answer.problem).join(' ')}`);
  return answer.entry;
}

/** A plan is for a future day, so it can't be in a file. None is written where the clock is before the season's end. */
function plannedMarketDay(steps: readonly PracticeStep[], now: Date): PracticeStep[] {
  const last = steps.at(-1);
  if (last && now <= last.at) return [];
  const nextWeek = momentIn(practiceZone, new Date(now.getTime() + 7 * 86_400_000));
  const sent = { lot: '26071A-1', jars: '6', sentAt: nextWeek, to: 'Millrace Green market', contact: 'stall 4' };
  return [{ at: now, by: 'JP', write: (book, context) => record(book, context, dispatches, sent) }];
}

/** Without passwords: in the practice book people sign in with its button. */
const people = [
  { initials: 'WE', name: 'Wren Ellery', role: 'owner' },
  { initials: 'OE', name: 'Odd Ellery', role: 'maker' },
  { initials: 'JP', name: 'June Pascoe', role: 'helper' },
];
