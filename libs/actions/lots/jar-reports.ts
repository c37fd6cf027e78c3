import { randomBytes } from 'node:crypto';
import type { Book } from '#libs/store/book.js';
import {
  countJarReports,
  findJarReport,
  type JarReport,
  removeSettledReports,
  reportSentWith,
  saveJarReport,
  answerJarReport,
} from '#libs/store/household/jar-reports.js';
import { kindByName } from '../kinds/registry.js';
import { type Refusal, refused, unknown } from '../record/problem.js';
import { type Recorded, recordOn } from '../record/record.js';
import { loadSugarhouseContext, type WriteContext } from '../record/write-context.js';
import { momentIn } from '../record/times.js';

/** From whom such a complaint is, as the record has it. */
export const fromJarPage = 'jar page';

/** What strangers may leave in a day, of one jar and of all, and how many may wait: each must be read by a maker. */
const most = { ofAJar: 5, inADay: 60, waiting: 300 };
const dayMs = 86_400_000;

export interface SentReport {
  readonly token: string;
  readonly lot: string;
  readonly jar: string;
  readonly said: string;
  readonly reach: string;
}

/**
 * Keeps what a stranger wrote of a jar beside the record, where it waits for a maker: log entries can't be deleted, so
 * nobody anonymous writes to it. Counted inside the write, since a hundred at the same moment would otherwise all find
 * room.
 */
export function takeJarReport(
  book: Book,
  { sugarhouse, now }: Pick<WriteContext, 'sugarhouse' | 'now'>,
  sent: SentReport,
): Promise<'taken' | 'full' | 'other'> {
  return book.writeHousehold(async (sql) => {
    const before = await reportSentWith({ sql, sugarhouse }, sent.token);
    if (before) return before.said === sent.said && before.reach === sent.reach ? 'taken' : 'other';
    await removeSettledReports(sql, new Date(now.getTime() - 30 * dayMs).toISOString());
    const since = new Date(now.getTime() - dayMs).toISOString();
    const { ofJar, recent, waiting } = await countJarReports({ sql, sugarhouse }, { jar: sent.jar, since });
    if (ofJar >= most.ofAJar || recent >= most.inADay || waiting >= most.waiting) return 'full';
    const report: JarReport = {
      ...sent,
      id: randomBytes(9).toString('base64url'),
      sentAt: now.toISOString(),
      state: 'waiting',
    };
    await saveJarReport({ sql, sugarhouse }, report);
    return 'taken';
  });
}

/** Takes a report into the record as a complaint of its jar, in its own words and with the time it was sent. */
export function acceptJarReport(book: Book, context: WriteContext, id: string): Promise<Recorded | Refusal> {
  return book.write(async (tx): Promise<Recorded | Refusal> => {
    const report = await findJarReport({ sql: tx.sql, sugarhouse: context.sugarhouse }, id);
    if (!report) return unknown('report', id);
    if (report.state !== 'waiting') return alreadyAnswered(report);
    const { parseOptions } = await loadSugarhouseContext(tx.sql, context);
    const done = await recordOn(tx, { ...context, key: `jar-report:${id}` }, kindByName.get('complaint')!, {
      lot: report.lot,
      jar: report.jar,
      at: momentIn(parseOptions.zone, new Date(report.sentAt)),
      from: fromJarPage,
      said: report.said,
      ...(report.reach ? { note: `Reach them: ${report.reach}` } : {}),
      by: 'customer',
    });
    if ('problem' in done) return done;
    const at = context.now.toISOString();
    await answerJarReport({ sql: tx.sql, sugarhouse: context.sugarhouse }, id, { state: 'taken', by: context.by, at });
    return done;
  });
}

/** Sets a report aside: it is not in the record, and goes after a month. */
export function setReportAside(book: Book, context: WriteContext, id: string): Promise<JarReport | Refusal> {
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
