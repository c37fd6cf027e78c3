import type { Sql } from '../connection/sql.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** Whose request it was: the same key sent by two people is two requests. */
export interface RequestKey {
  readonly author: string;
  readonly key: string;
}

/** The answer to a request that wrote something (201). */
export interface KeptAnswer {
  /** The hash of the whole request: address and body. */
  readonly request: string;
  readonly location: string;
  /** JSON. */
  readonly body: string;
  /** In UTC, as Date formats it. */
  readonly sentAt: string;
}

/** The answer kept for this key; undefined where there is none. */
export async function findAnswer(
  { sql, sugarhouse }: SugarhouseReader,
  { author, key }: RequestKey,
): Promise<KeptAnswer | undefined> {
  const row = await sql.row<Omit<KeptAnswer, 'sentAt'> & { sent_at: string }>`SELECT request, location, body, sent_at
    FROM household_answer WHERE sugarhouse = ${sugarhouse} AND author = ${author} AND idempotency_key = ${key}`;
  return row && { request: row.request, location: row.location, body: row.body, sentAt: row.sent_at };
}

/** Keeps an answer; one that is there already under this key stays. */
export async function keepAnswer(
  { sql, sugarhouse }: SugarhouseReader,
  { author, key }: RequestKey,
  { request, location, body, sentAt }: KeptAnswer,
): Promise<void> {
  await sql.run`INSERT INTO household_answer (sugarhouse, author, idempotency_key, request, location, body, sent_at)
    VALUES (${sugarhouse}, ${author}, ${key}, ${request}, ${location}, ${body}, ${sentAt})
    ON CONFLICT (sugarhouse, author, idempotency_key) DO NOTHING`;
}

/** Removes the answers of every sugarhouse sent before then: a request is sent again within days, not years. */
export const dropAnswersBefore = (sql: Sql, before: string): Promise<unknown> =>
  sql.run`DELETE FROM household_answer WHERE sent_at < ${before}`;
