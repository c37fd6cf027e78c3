import { findRecord } from '#libs/store/queries/lots.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { Book } from '#libs/store/book.js';
import { houses } from '../kinds/house.js';
import { inputTexts, type RecordInput } from './parsed-field.js';
import type { Refusal } from './problem.js';
import { record, type Recorded } from './record.js';
import type { WriteContext } from './write-context.js';

/**
 * Saves the sugarhouse's details; `why` is the reason of a correction. Where only blank boxes are filled in, it is an
 * addition: an answer about the hydrometers then opens the lots that only its absence held. A changed answer is a
 * correction, after which lots that it would open wait for a release.
 */
export async function changeHouse(
  book: Book,
  context: WriteContext,
  input: RecordInput,
  why: string,
): Promise<Recorded | Refusal> {
  const saved = await findRecord(sugarhouseReader(book.read, context.sugarhouse), 'house', 'house');
  if (!saved) return record(book, context, houses, input);
  const changed = Object.entries(inputTexts(input)).filter(([name, text]) => text !== (saved.typed[name] ?? ''));
  const onlyFillsBlanks = changed.every(([name]) => (saved.typed[name] ?? '') === '');
  return onlyFillsBlanks && changed.length > 0
    ? record(book, context, houses, Object.fromEntries(changed.map(([name]) => [name, input[name]])), {
        of: 'house',
        add: true,
      })
    : record(book, context, houses, input, { of: 'house', why });
}
