import type { Book } from '#libs/store/book.js';
import { home, housesOf, type House } from '#libs/store/household/houses.js';
import type { WriteContext } from '../record/write-context.js';
import { invalid, type Refusal, refused } from '../record/problem.js';
import { recordInTransaction } from '../record/record.js';
import { houses } from '../kinds/house.js';

/**
 * Adds a sugarhouse to the book: its key, which never changes, and its first `house` record. It has lots, labels,
 * people and summaries of its own.
 */
export function addHouse(
  book: Book,
  context: Omit<WriteContext, 'sugarhouse'>,
  key: string,
  input: Readonly<Record<string, string>>,
): Promise<House | Refusal> {
  return book.write(async (tx): Promise<House | Refusal> => {
    if (!/^[a-z][a-z0-9-]{0,39}$/.test(key))
      return invalid('key', 'small letters, digits and dashes, like bracken-lane', `"${key}"`);
    const existing = await housesOf(tx.sql);
    if (key === home || existing.some((house) => house.key === key))
      return refused(
        'house-there',
        `There is a sugarhouse ${key} already: book setup --house ${key} changes its details.`,
      );
    const recorded = await recordInTransaction(tx, { ...context, sugarhouse: key }, houses, input);
    if ('problem' in recorded) return recorded;
    const added = (await housesOf(tx.sql)).find((house) => house.key === key);
    if (!added) throw new Error(`The sugarhouse ${key} was recorded and is not there`);
    return added;
  });
}
