import { randomInt } from 'node:crypto';
import type { Book } from '#libs/records/book.js';
import { countJars, jarAt } from '#libs/records/lots.js';
import { printedJarCode } from '#libs/syrup/jar-codes.js';
import type { Desk } from './desk.js';
import { kindByName } from './kinds.js';
import { type Refusal, refused, unknown } from './problem.js';
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
  const jar = await drawJar(book, desk.sugarhouse);
  if (typeof jar !== 'string') return jar;
  const trace = await tracedJar(book, desk, jar);
  if ('problem' in trace) return trace;
  return written(book, desk, trace, { milliseconds: Math.round(performance.now() - began) });
}

/** A jar of the book drawn by chance, as its label prints it: with it a practice recall begins. */
export async function drawJar(book: Book, sugarhouse: string): Promise<string | Refusal> {
  const jars = await countJars(book.read, sugarhouse);
  const jar = jars === 0 ? undefined : await jarAt(book.read, sugarhouse, randomInt(jars));
  if (!jar) return refused('no-jars', 'There are no jars in this book yet: a recall is practised with one.');
  return printedJarCode(jar.code);
}

/** How a practice recall that people worked through ends: its time, and the jars they found on the shelf. */
export interface PracticeEnd {
  readonly milliseconds: number;
  /** Counted for the practice; left out, the book's own balance closes it. */
  readonly onShelf?: number | undefined;
}

/** Closes a practice recall of this jar: the balance is drawn and the result written on the season's record. */
export async function closePractice(
  book: Book,
  desk: Desk,
  jar: string,
  end: PracticeEnd,
): Promise<Practised | Refusal> {
  const trace = await tracedJar(book, desk, jar);
  if ('problem' in trace) return trace;
  return written(book, desk, trace, end);
}

async function tracedJar(book: Book, desk: Desk, jar: string): Promise<JarTrace | Refusal> {
  const trace = await book.snapshot((sql) => traceLot(sql, desk.sugarhouse, jar, desk.now), { rerun: true });
  if ('problem' in trace) return trace;
  return trace.jar && trace.pack ? { ...trace, jar: trace.jar, pack: trace.pack } : unknown('jar', jar);
}
type JarTrace = Trace & { readonly jar: NonNullable<Trace['jar']>; readonly pack: string };

async function written(book: Book, desk: Desk, trace: JarTrace, end: PracticeEnd): Promise<Practised | Refusal> {
  const { made } = trace.jars;
  const { found, balance } = balanceOfPractice(trace, end.onShelf);
  const result = `${found} of ${made} jars of ${trace.pack}: ${balance}; boils ${trace.boils.join(', ') || 'none'}; sap ${trace.gatherings.join(', ') || 'none'}`;
  const jar = trace.jar.printed;
  const recorded = await record(book, desk, kindByName.get('practice-recall')!, {
    jar,
    lot: trace.pack,
    seconds: String(Math.ceil(end.milliseconds / 1000)),
    accounted: `${found}/${made}`,
    result,
  });
  if ('problem' in recorded) return recorded;
  return { jar, trace, milliseconds: end.milliseconds, result, recorded };
}

function balanceOfPractice({ jars }: Trace, onShelf: number | undefined): { found: number; balance: string } {
  const found =
    onShelf === undefined ? jars.made - (jars.unaccounted ?? 0) : onShelf + jars.sentOut + jars.destroyed + jars.other;
  if (onShelf === undefined && jars.unaccounted === null) return { found, balance: 'not counted yet, so by the book' };
  const lacking = jars.made - found;
  if (lacking === 0) return { found, balance: 'all accounted for' };
  return { found, balance: lacking > 0 ? `${lacking} unaccounted for` : `${-lacking} more than were made` };
}
