import { importRows } from '#libs/actions/import/import-rows.js';
import { gatherings } from '#libs/actions/kinds/gathering.js';
import { type Book, openBook } from '#libs/store/book.js';
import type { BookLocation } from '#libs/store/connection/engine.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import { fileOfGatherings, importContext } from './long-file.js';

// Imports a long file and prints that it did, then another one, and kills itself while that is moved into the book:
// before a statement of the move, by number, or so many milliseconds after its last one, while it is committed.
// Arguments: the book's location (JSON), a prefix for the ids, `statement` or `after`, the number.
const [location = '', mark = '', when = '', number = ''] = process.argv.slice(2);
const die = (): void => void process.kill(process.pid, 'SIGKILL');

const book = await openBook(JSON.parse(location) as BookLocation);
const first = await importRows(book, importContext, gatherings, fileOfGatherings(`${mark}-kept`));
console.log(`imported ${first.written}`);

const dying = async <T extends object>(work: (tx: WriteTransaction) => Promise<T>, tx: WriteTransaction) => {
  let statements = 0;
  const statement: typeof tx.sql.statement = (text, values) => {
    if (when === 'statement' && ++statements === Number(number)) die();
    return tx.sql.statement(text, values);
  };
  const answer = await work({ ...tx, sql: { ...tx.sql, statement } });
  if (when === 'after') setTimeout(die, Number(number));
  return answer;
};
const mortal: Book = {
  ...book,
  write: (work) => book.write((tx) => dying(work, tx)),
  writeBeside: (scratchFile, work) => book.writeBeside(scratchFile, (tx) => dying(work, tx)),
};
const second = await importRows(mortal, importContext, gatherings, fileOfGatherings(`${mark}-moved`));
console.log(`moved ${second.written}`);
setTimeout(() => {}, 10_000);
