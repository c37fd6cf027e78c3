import { randomInt } from 'node:crypto';
import type { Book } from '#libs/records/book.js';
import { countJars, jarAt } from '#libs/records/lots.js';
import { printedJarCode } from '#libs/syrup/jar-codes.js';
import type { Desk } from './desk.js';
import { kindByName } from './kinds.js';
import { type Refusal, refused } from './problem.js';
import { type Recorded, record } from './record.js';
import { type Trace, traceLot } from './trace-lot.js';

export interface Practised {
  readonly jar: string;
  readonly trace: Trace;
  readonly milliseconds: number;
  readonly result: string;
  readonly recorded: Recorded;
}

/**
 * A practice recall: a jar drawn at random is traced to its sap and to its sisters, the clock runs, the
 * balance closes it, and the result is on the season's record. Nothing is called back.
 */
export async function practiseRecall(book: Book, desk: Desk): Promise<Practised | Refusal> {
  const began = performance.now();
  const jars = await countJars(book.read, desk.sugarhouse);
  const jar = jars === 0 ? undefined : await jarAt(book.read, desk.sugarhouse, randomInt(jars));
  if (!jar) return refused('no-jars', 'There are no jars in this book yet: a recall is practised with one.');
  const trace = await book.snapshot((sql) => traceLot(sql, desk.sugarhouse, jar.code, desk.now), { rerun: true });
  if ('problem' in trace) return trace;
  const milliseconds = Math.round(performance.now() - began);
  const { made, unaccounted } = trace.jars;
  const found = made - (unaccounted ?? 0);
  const balance =
    unaccounted === null
      ? 'not counted yet, so by the book'
      : unaccounted === 0
        ? 'all accounted for'
        : `${unaccounted} unaccounted for`;
  const result = `${found} of ${made} jars of ${jar.pack}: ${balance}; boils ${trace.boils.join(', ') || 'none'}; sap ${trace.gatherings.join(', ') || 'none'}`;
  const recorded = await record(book, desk, kindByName.get('practice-recall')!, {
    jar: printedJarCode(jar.code),
    lot: jar.pack,
    seconds: String(Math.ceil(milliseconds / 1000)),
    accounted: `${found}/${made}`,
    result,
  });
  if ('problem' in recorded) return recorded;
  return { jar: printedJarCode(jar.code), trace, milliseconds, result, recorded };
}
