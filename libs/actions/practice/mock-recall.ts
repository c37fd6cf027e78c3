import { randomInt } from 'node:crypto';
import { textIn } from '#libs/records/kinds/supporting-record.js';
import type { Book } from '#libs/store/book.js';
import { findEntry, findSent } from '#libs/store/log/log.js';
import { countJars, findRecord, jarAt } from '#libs/store/queries/lots.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import type { WriteContext } from '../record/write-context.js';
import type { Kind } from '../record/kind.js';
import { kindNamed } from '../kinds/registry.js';
import { type Refusal, refused, unknown } from '../record/problem.js';
import { type Recorded, record } from '../record/record.js';
import { type Trace, traceLot } from '../lots/trace-lot.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export interface MockRecallResult {
  readonly jar: string;
  readonly trace: Trace;
  readonly milliseconds: number;
  readonly result: string;
  readonly recorded: Recorded;
}

/**
 * Runs a mock recall: traces a random jar to its sap and to the other packs of its boils, measures the time, closes
 * with the reconciliation, and records the result in the season. Nothing is recalled.
 */
export async function runMockRecall(book: Book, context: WriteContext): Promise<MockRecallResult | Refusal> {
  const began = performance.now();
  const jar = await drawRandomJar(book, context.sugarhouse);
  if (typeof jar !== 'string') return jar;
  const trace = await traceJar(book, context, jar);
  if ('problem' in trace) return trace;
  return recordResult(book, context, trace, { milliseconds: Math.round(performance.now() - began) });
}

/** The code, as printed, of a random jar with which a mock recall starts. */
export async function drawRandomJar(book: Book, sugarhouse: string): Promise<string | Refusal> {
  const jars = await countJars(sugarhouseReader(book.read, sugarhouse));
  const jar = jars === 0 ? undefined : await jarAt(sugarhouseReader(book.read, sugarhouse), randomInt(jars));
  if (!jar) return refused('no-jars', 'There are no jars in this book yet: a mock recall needs one.');
  return printedJarCode(jar.code);
}

/** A mock recall that people work through, from its first entry on. */
export interface MockRecallInProgress {
  readonly id: string;
  readonly jar: string;
  readonly lot: string;
  /** When its first entry was written, by the server's clock: no page and no correction can change it. */
  readonly sinceMs: number;
  readonly closed: boolean;
}

/**
 * Draws a jar and records that a mock recall began: the time runs from that entry. A repeated request begins only one.
 */
export async function beginMockRecall(book: Book, context: WriteContext): Promise<MockRecallInProgress | Refusal> {
  const sent =
    context.key === undefined
      ? undefined
      : await findSent(sugarhouseReader(book.read, context.sugarhouse), context.author, context.key);
  if (sent?.record?.kind === 'practice-recall') return findMockRecall(book, context, sent.record.id);
  const jar = await drawRandomJar(book, context.sugarhouse);
  if (typeof jar !== 'string') return jar;
  const trace = await traceJar(book, context, jar);
  if ('problem' in trace) return trace;
  const begun = await record(book, context, practices(), { jar, lot: trace.pack });
  return 'problem' in begun ? begun : findMockRecall(book, context, begun.id);
}

/** A mock recall in progress: its jar and when it began; a refusal where no record has that id. */
export async function findMockRecall(
  book: Book,
  context: WriteContext,
  id: string,
): Promise<MockRecallInProgress | Refusal> {
  const saved = await findRecord(sugarhouseReader(book.read, context.sugarhouse), 'practice-recall', id);
  const first = saved && (await findEntry(book.read, saved.firstSeq));
  if (!saved || !first) return unknown('mock recall', id);
  return {
    id,
    jar: textIn(saved.body, 'jar'),
    lot: textIn(saved.body, 'lot'),
    sinceMs: Date.parse(first.typedAt),
    closed: Boolean(saved.body['result']),
  };
}

/** A mock recall left open overnight doesn't count as an exercise. */
const maxDurationMs = 86_400_000;

/**
 * Closes a mock recall: takes the balance and adds the result to its record. `onShelf` are the jars counted for it; if
 * omitted, the book's own balance is used.
 */
export async function closeMockRecall(
  book: Book,
  context: WriteContext,
  id: string,
  onShelf?: number,
): Promise<MockRecallResult | Refusal> {
  const begun = await findMockRecall(book, context, id);
  if ('problem' in begun) return begun;
  const milliseconds = context.now.getTime() - begun.sinceMs;
  if (!(milliseconds >= 0 && milliseconds < maxDurationMs))
    return refused('practice-over', `${id} was begun more than a day ago: begin another.`);
  const trace = await traceJar(book, context, begun.jar);
  if ('problem' in trace) return trace;
  return recordResult(book, context, trace, { milliseconds, onShelf, of: id });
}

async function traceJar(book: Book, context: WriteContext, jar: string): Promise<JarTrace | Refusal> {
  const trace = await book.snapshot((sql) => traceLot(sugarhouseReader(sql, context.sugarhouse), jar, context.now), {
    rerun: true,
  });
  if ('problem' in trace) return trace;
  return trace.jar && trace.pack ? { ...trace, jar: trace.jar, pack: trace.pack } : unknown('jar', jar);
}
type JarTrace = Trace & { readonly jar: NonNullable<Trace['jar']>; readonly pack: string };

interface MockRecallEnd {
  readonly milliseconds: number;
  readonly onShelf?: number | undefined;
  /** The record that was begun; if omitted, a complete one is written. */
  readonly of?: string | undefined;
}

async function recordResult(
  book: Book,
  context: WriteContext,
  trace: JarTrace,
  end: MockRecallEnd,
): Promise<MockRecallResult | Refusal> {
  const { made } = trace.jars;
  const { found, balance } = reconcileJars(trace, end.onShelf);
  const reached = end.onShelf === undefined ? `by the records, ${found} of ${made} jars` : `${found} of ${made} jars`;
  const result = `${reached} of ${trace.pack}: ${balance}; boils ${formatLots(trace.boils)}; sap ${formatLots(trace.gatherings)}`;
  const jar = trace.jar.printed;
  const input = {
    seconds: String(Math.ceil(end.milliseconds / 1000)),
    // Jars that nobody counted stay unaccounted for: comparing the book with itself would prove nothing.
    ...(end.onShelf === undefined ? {} : { accounted: `${found}/${made}`, counted: String(end.onShelf) }),
    result,
  };
  const recorded = end.of
    ? await record(book, context, practices(), input, { add: true, of: end.of })
    : await record(book, context, practices(), { jar, lot: trace.pack, ...input });
  if ('problem' in recorded) return recorded;
  return { jar, trace, milliseconds: end.milliseconds, result, recorded };
}

/** A season boiled without emptying the pans is one chain: the first lots and the number of others are enough. */
const formatLots = (lots: readonly string[]): string =>
  lots.length === 0
    ? 'none'
    : `${lots.slice(0, maxListed).join(', ')}${lots.length > maxListed ? ` and ${lots.length - maxListed} more` : ''}`;
const maxListed = 24;

const practices = (): Kind => kindNamed('practice-recall');

function reconcileJars({ jars }: Trace, onShelf: number | undefined): { found: number; balance: string } {
  const found =
    onShelf === undefined ? jars.made - (jars.unaccounted ?? 0) : onShelf + jars.sentOut + jars.destroyed + jars.other;
  if (onShelf === undefined) return { found, balance: 'nobody counted the shelf' };
  const missing = jars.made - found;
  if (missing === 0) return { found, balance: 'all accounted for' };
  return { found, balance: missing > 0 ? `${missing} unaccounted for` : `${-missing} more than were made` };
}
