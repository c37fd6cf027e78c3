import { actions as actionKind } from '#libs/actions/kinds/corrective-action.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { record } from '#libs/actions/record/record.js';
import type { Book } from '#libs/store/book.js';
import type { Documents } from './documented-season.js';
import { sqlite } from './engines.js';
import { writeContext, done, recordOrThrow } from './sugarhouse.js';

/** Started by each test file that writes a book with it. */
export const engine = sqlite();

/** A house, a gathering, boil 26077A and pack 26077A-1 with the given differences, and then the later entries. */
export const begunWith = async (
  pack: Record<string, string | string[]>,
  ...first: ((book: Book) => Promise<unknown>)[]
): Promise<Book> => {
  const book = await engine.freshBook();
  for (const kind of ['house', 'gathering', 'boil']) await recordOrThrow(book, kind);
  await recordOrThrow(book, 'pack', pack);
  for (const write of first) await write(book);
  return book;
};
/** The same with an ordinary pack. */
export const begun = (...first: ((book: Book) => Promise<unknown>)[]): Promise<Book> => begunWith({}, ...first);
/** A lot's row of the summary as CSV; empty where it has none. */
export const rowOf = ({ csv }: Documents, lot = '26077A-1') => csv.find((row) => row['Lot'] === lot) ?? {};
/** A corrective action that packed jars 17 to 32 again. */
export const act = async (book: Book, fields: Record<string, string | string[]>, now = '2026-05-01T23:00:00Z') =>
  done(
    await record(book, writeContext({ now: new Date(now) }), actionKind, {
      lot: '26077A-1',
      found: 'the second tray at 178 F',
      cause: 'cold-jar',
      jars: '17-32',
      done: 'those jars emptied, the syrup reheated to 195 F and packed again',
      by: 'WE',
      ...fields,
    }),
  );
/** The maker's release of the pack, the morning after. */
export const release = (book: Book, why = 'filled again at 187 F') =>
  releaseLot(book, writeContext({ now: new Date('2026-05-02T12:00:00Z') }), '26077A-1', why).then(done);
