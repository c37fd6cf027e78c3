import { toNumber, type Sql } from '../connection/sql.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** A report by the holder of a jar. It is pending until a maker records it as a complaint or dismisses it. */
export interface JarReport {
  readonly id: string;
  /** Sent with the form: the same form sent twice has the same token. */
  readonly token: string;
  readonly lot: string;
  readonly jar: string;
  readonly said: string;
  readonly reach: string;
  /** In UTC, as Date formats it. */
  readonly sentAt: string;
  readonly state: 'waiting' | 'taken' | 'set aside';
}

/** A customer's report by its id; undefined where there is none. */
export async function findJarReport({ sql, sugarhouse }: SugarhouseReader, id: string): Promise<JarReport | undefined> {
  const row =
    await sql.row<Columns>`SELECT * FROM household_jar_report WHERE sugarhouse = ${sugarhouse} AND id = ${id}`;
  return row && reportFrom(row);
}

/** The report sent with this form token; undefined where there is none. */
export async function reportSentWith(
  { sql, sugarhouse }: SugarhouseReader,
  token: string,
): Promise<JarReport | undefined> {
  const row = await sql.row<Columns>`SELECT * FROM household_jar_report
    WHERE sugarhouse = ${sugarhouse} AND token = ${token}`;
  return row && reportFrom(row);
}

/** The pending reports, newest first; of one lot where it is named. */
export async function reportsWaitingOf({ sql, sugarhouse }: SugarhouseReader, lot?: string): Promise<JarReport[]> {
  const rows =
    lot === undefined
      ? await sql.rows<Columns>`SELECT * FROM household_jar_report
          WHERE sugarhouse = ${sugarhouse} AND state = 'waiting' ORDER BY sent_at DESC, id`
      : await sql.rows<Columns>`SELECT * FROM household_jar_report
          WHERE sugarhouse = ${sugarhouse} AND state = 'waiting' AND lot = ${lot} ORDER BY sent_at DESC, id`;
  return rows.map(reportFrom);
}

/** How many reports arrived since then, for the jar and in all, and how many are pending. */
export async function countJarReports(
  { sql, sugarhouse }: SugarhouseReader,
  { jar, since }: { readonly jar: string; readonly since: string },
): Promise<{ ofJar: number; recent: number; waiting: number }> {
  const row = await sql.row<{ of_jar: number; recent: number; waiting: number }>`SELECT
    SUM(CASE WHEN jar = ${jar} AND sent_at >= ${since} THEN 1 ELSE 0 END) AS of_jar,
    SUM(CASE WHEN sent_at >= ${since} THEN 1 ELSE 0 END) AS recent,
    SUM(CASE WHEN state = 'waiting' THEN 1 ELSE 0 END) AS waiting
    FROM household_jar_report WHERE sugarhouse = ${sugarhouse}`;
  return { ofJar: toNumber(row?.of_jar), recent: toNumber(row?.recent), waiting: toNumber(row?.waiting) };
}

/** Saves a customer's report. */
export async function saveJarReport({ sql, sugarhouse }: SugarhouseReader, report: JarReport): Promise<void> {
  const { id, token, lot, jar, said, reach, sentAt, state } = report;
  await sql.run`INSERT INTO household_jar_report (sugarhouse, id, token, lot, jar, said, reach, sent_at, state)
    VALUES (${sugarhouse}, ${id}, ${token}, ${lot}, ${jar}, ${said}, ${reach}, ${sentAt}, ${state})`;
}

/** Marks a report as recorded or dismissed, by whom and when. */
export async function answerJarReport(
  { sql, sugarhouse }: SugarhouseReader,
  id: string,
  answer: { readonly state: 'taken' | 'set aside'; readonly by: string; readonly at: string },
): Promise<void> {
  await sql.run`UPDATE household_jar_report SET state = ${answer.state}, settled_by = ${answer.by},
    settled_at = ${answer.at} WHERE sugarhouse = ${sugarhouse} AND id = ${id}`;
}

/** Removes reports that were recorded or dismissed before then: one is in the log, the other no longer needed. */
export async function removeAnsweredReports(sql: Sql, before: string): Promise<void> {
  await sql.run`DELETE FROM household_jar_report WHERE state <> 'waiting' AND settled_at < ${before} AND sent_at < ${before}`;
}

interface Columns {
  id: string;
  token: string;
  lot: string;
  jar: string;
  said: string;
  reach: string;
  sent_at: string;
  state: JarReport['state'];
}

const reportFrom = ({ sent_at: sentAt, id, token, lot, jar, said, reach, state }: Columns): JarReport => ({
  id,
  token,
  lot,
  jar,
  said,
  reach,
  sentAt,
  state,
});
