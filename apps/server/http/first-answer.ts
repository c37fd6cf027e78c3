import type { FastifyRequest } from 'fastify';
import { hashOf } from '#libs/store/log/canonical.js';
import { findSent } from '#libs/store/log/log.js';
import { dropAnswersBefore, findAnswer, keepAnswer, type KeptAnswer } from '#libs/store/household/kept-answers.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { type Principal, principalOf, readerOf } from './principal.js';
import { isApi } from './problem-filter.js';
import { Made } from './responses.js';

/**
 * Answers a request under /api that has an Idempotency-Key: where it was answered with 201 before, with that answer and
 * nothing else; else by `handle`, whose answer is kept. The same key for another file is refused; for another record the
 * log refuses it. Requests under one key are answered one after the other, so the second gets the answer of the first.
 */
export async function answeredOnce(request: FastifyRequest, handle: () => Promise<unknown>): Promise<unknown> {
  const principal = principalOf(request);
  const { key, author, sugarhouse } = principal.writeContext;
  if (key === undefined || request.method !== 'POST' || !isApi(request)) return handle();
  // A handler may change the body that it is given.
  const sent = hashOfRequest(request);
  return inTurn(JSON.stringify([principal.practice, sugarhouse, author, key]), async () => {
    const kept = await findAnswer(readerOf(principal), { author, key });
    if (kept?.request === sent) return madeFrom(kept);
    if (kept && !(await findSent(readerOf(principal), author, key))) return usedFor(kept, author);
    const answer = await handle();
    if (!(answer instanceof Made) || answer.status !== 201) return answer;
    if (answer.isRepeat) return kept ? madeFrom(kept) : answer;
    await keep(principal, { author, key }, sent, answer);
    return answer;
  });
}

const madeFrom = ({ location, body }: KeptAnswer): Made => new Made(location, JSON.parse(body) as object, 201, true);

const usedFor = ({ sentAt }: KeptAnswer, author: string): Refusal => ({
  problem: { kind: 'key-used', by: author, at: sentAt },
});

/** What was written stays written: an answer that can't be kept, as on a full disk, is made from the log next time. */
async function keep(
  { book, server, writeContext: { sugarhouse, now } }: Principal,
  of: { readonly author: string; readonly key: string },
  request: string,
  { at, body }: Made,
): Promise<void> {
  const answer = { request, location: at, body: JSON.stringify(body), sentAt: now.toISOString() };
  try {
    await book.writeHousehold(async (sql) => {
      await dropAnswersBefore(sql, new Date(now.getTime() - keptForMs).toISOString());
      await keepAnswer(sugarhouseReader(sql, sugarhouse), of, answer);
    });
  } catch (fault) {
    server.log('an answer was not kept', { fault: String(fault) });
  }
}

const keptForMs = 30 * 24 * 3600 * 1000;

const hashOfRequest = ({ url, body }: FastifyRequest): string =>
  hashOf(JSON.stringify([url, Buffer.isBuffer(body) ? body.toString('base64') : (body ?? null)]));

const waiting = new Map<string, Promise<unknown>>();

async function inTurn<T>(name: string, work: () => Promise<T>): Promise<T> {
  const before = waiting.get(name);
  const mine = (before ?? Promise.resolve()).then(work, work);
  waiting.set(name, mine);
  try {
    return await mine;
  } finally {
    if (waiting.get(name) === mine) waiting.delete(name);
  }
}
