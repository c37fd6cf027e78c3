import { randomBytes } from 'node:crypto';
import type { Book } from '#libs/store/book.js';
import {
  countJarReports,
  findJarReport,
  type JarReport,
  removeAnsweredReports,
  reportSentWith,
  saveJarReport,
  answerJarReport,
} from '#libs/store/household/jar-reports.js';
import { kindNamed } from '../kinds/registry.js';
import { type Refusal, refused, unknown } from '../record/problem.js';
import { type Recorded, recordInTransaction } from '../record/record.js';
import { loadSugarhouseContext, type WriteContext } from '../record/write-context.js';
import { momentIn } from '../record/times.js';

/** The stored `from` of such a complaint. */
export const fromJarPage = 'jar page';

/**
 * The most that strangers may submit in a day, for one jar and for all, and how many may be pending: a maker must read
 * each.
 */
const limits = { ofAJar: 5, inADay: 60, waiting: 300 };
const dayMs = 86_400_000;

export interface SubmittedReport {
  readonly token: string;
  readonly lot: string;
  readonly jar: string;
  readonly said: string;
  readonly reach: string;
}

/**
 * Stores a stranger's report of a jar outside the log, where it waits for a maker: log entries can't be deleted, so
 * nobody anonymous may append one. Counted inside the write transaction, so that concurrent reports can't exceed the
 * limit.
 */
export function submitJarReport(
  book: Book,
  { sugarhouse, now }: Pick<WriteContext, 'sugarhouse' | 'now'>,
  submitted: SubmittedReport,
): Promise<'taken' | 'full' | 'other'> {
  return book.writeHousehold(async (sql) => {
    const before = await reportSentWith({ sql, sugarhouse }, submitted.token);
    if (before) return before.said === submitted.said && before.reach === submitted.reach ? 'taken' : 'other';
    await removeAnsweredReports(sql, new Date(now.getTime() - 30 * dayMs).toISOString());
    const since = new Date(now.getTime() - dayMs).toISOString();
    const { ofJar, recent, waiting } = await countJarReports({ sql, sugarhouse }, { jar: submitted.jar, since });
    if (ofJar >= limits.ofAJar || recent >= limits.inADay || waiting >= limits.waiting) return 'full';
    const report: JarReport = {
      ...submitted,
      id: randomBytes(9).toString('base64url'),
      sentAt: now.toISOString(),
      state: 'waiting',
    };
    await saveJarReport({ sql, sugarhouse }, report);
    return 'taken';
  });
}

/** Records a report as a complaint about its jar, with the original text and time. */
export function acceptJarReport(book: Book, context: WriteContext, id: string): Promise<Recorded | Refusal> {
  return book.write(async (tx): Promise<Recorded | Refusal> => {
    const report = await findJarReport({ sql: tx.sql, sugarhouse: context.sugarhouse }, id);
    if (!report) return unknown('report', id);
    if (report.state !== 'waiting') return alreadyAnswered(report);
    const { parseOptions } = await loadSugarhouseContext(tx.sql, context);
    const recorded = await recordInTransaction(tx, { ...context, key: `jar-report:${id}` }, kindNamed('complaint'), {
      lot: report.lot,
      jar: report.jar,
      at: momentIn(parseOptions.zone, new Date(report.sentAt)),
      from: fromJarPage,
      said: report.said,
      ...(report.reach ? { note: `Reach them: ${report.reach}` } : {}),
      by: 'customer',
    });
    if ('problem' in recorded) return recorded;
    const at = context.now.toISOString();
    await answerJarReport({ sql: tx.sql, sugarhouse: context.sugarhouse }, id, { state: 'taken', by: context.by, at });
    return recorded;
  });
}

/** Dismisses a report: it is never logged, and is deleted after a month. */
export function dismissJarReport(book: Book, context: WriteContext, id: string): Promise<JarReport | Refusal> {
  return book.writeHousehold(async (sql) => {
    const report = await findJarReport({ sql, sugarhouse: context.sugarhouse }, id);
    if (!report) return unknown('report', id);
    if (report.state !== 'waiting') return alreadyAnswered(report);
    const at = context.now.toISOString();
    await answerJarReport({ sql, sugarhouse: context.sugarhouse }, id, { state: 'set aside', by: context.by, at });
    return report;
  });
}

const alreadyAnswered = ({ state }: JarReport): Refusal =>
  refused(
    'report',
    state === 'taken' ? 'Somebody has already recorded this report.' : 'Somebody has already set this report aside.',
  );
