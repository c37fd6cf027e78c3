import { gatherings } from '#libs/actions/kinds/gathering.js';
import { record } from '#libs/actions/record/record.js';
import { openBook } from '#libs/store/book.js';
import type { BookLocation } from '#libs/store/connection/engine.js';

// Writes gatherings one by one into a book that others write to as well, and prints the id of each once it is saved.
// Arguments: the book's location (JSON), a prefix for the ids, how many.
const [location = '', mark = '', count = ''] = process.argv.slice(2);
const book = await openBook(JSON.parse(location) as BookLocation);
console.log('open');
for (let n = 1; n <= Number(count); n++) {
  const id = `${mark}${n}`;
  const context = {
    sugarhouse: 'home',
    by: 'OE',
    author: mark,
    now: new Date('2026-06-01T12:00:00Z'),
    zone: 'America/New_York',
    key: id,
  };
  const answer = await record(book, context, gatherings, {
    id,
    gatheredAt: '2026-03-17T16:30',
    source: 'North slope, buckets',
    volume: '12 gal',
  });
  if ('problem' in answer) throw new Error(JSON.stringify(answer.problem));
  console.log(`kept ${id} ${answer.entry}`);
}
await book.close();
