import { gatherings } from '#libs/actions/kinds/gathering.js';
import type { Kind } from '#libs/actions/record/kind.js';
import { packs } from '#libs/actions/kinds/pack.js';
import { sentencesOf } from '#libs/actions/record/problem.js';
import { boils } from '#libs/actions/kinds/boil.js';
import { record } from '#libs/actions/record/record.js';
import { openBook } from '#libs/store/book.js';
import type { BookLocation } from '#libs/store/connection/engine.js';
import { readHead } from '#libs/store/log/log.js';

// Writes one record after another and prints each acknowledged one, for the parent process to list. Arguments: the
// book's location (JSON), a prefix for the ids, how many. Failed writes are sent again at the end.
const [location = '', mark = '', count = ''] = process.argv.slice(2);

// A process whose file may not grow ends, unless it listens for the signal.
process.on('SIGXFSZ', () => {});
process.on('uncaughtException', (fault) => {
  console.log(`crash ${fault.message}`);
  process.exit(9);
});

const book = await openBook(JSON.parse(location) as BookLocation);
console.log(`open ${(await readHead(book.read)).entries}`);
const unsure: number[] = [];
for (let n = 1; n <= Number(count); n++) {
  if (!(await sent(n))) {
    unsure.push(n);
    // Whatever happened to writing, reading still works.
    console.log(`read ${(await readHead(book.read)).entries}`);
  }
}
for (let attempt = 1; unsure.length > 0 && attempt <= 600; attempt++) {
  const n = unsure.shift() ?? 0;
  if (!(await sent(n))) {
    unsure.push(n);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}
await book.close();
console.log(`closed ${unsure.length}`);

/** Every tenth is a boil, followed by a pack of five jars: many tables, one write. */
async function sent(n: number): Promise<boolean> {
  const id = `${mark}-${n}`;
  const at = { by: 'WE', lot: '' };
  const [kind, row]: [Kind, Record<string, string>] =
    n % 10 === 1
      ? [boils, { ...at, id, beganAt: '2026-03-18T07:30', syrupVolume: '1 gal' }]
      : n % 10 === 2
        ? [
            packs,
            {
              ...at,
              id,
              fromLots: `${mark}-${n - 1}:1 qt`,
              packedAt: '2026-03-19T10:00',
              container: 'glass jar 8 fl oz',
              jars: '5',
              fillTemps: '186 F',
            },
          ]
        : [gatherings, { id, gatheredAt: '2026-03-17T16:30', source: 'North slope, buckets', volume: '12 gal' }];
  const context = {
    sugarhouse: 'home',
    by: 'WE',
    author: 'writer',
    now: new Date('2026-06-01T12:00:00Z'),
    zone: 'America/New_York',
    key: id,
  };
  try {
    const answer = await record(book, context, kind, row);
    if ('problem' in answer) throw new Error(sentencesOf(answer.problem).join(' '));
    console.log(`kept ${id} ${answer.id}`);
    return true;
  } catch (fault) {
    console.log(`fault ${id} ${(fault as Error).message.replaceAll('\n', ' ')}`);
    return false;
  }
}
