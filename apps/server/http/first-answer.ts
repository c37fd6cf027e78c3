import type { FastifyRequest } from 'fastify';
import { hashOf } from '#libs/store/log/canonical.js';
import { findSent } from '#libs/store/log/log.js';
import { dropAnswersBefore, findAnswer, keepAnswer, type KeptAnswer } from '#libs/store/household/kept-answers.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { type Principal, principalOf, readerOf } from './principal.js';
import { isApi } from './problem-filter.js';
import { ApiSaved } from './responses.js';

/**
 * Answers a request under /api that has an Idempotency-Key: where it was answered with 201 before, with that answer and
 * nothing else; else by `handle`, whose answer is kept. The same key for another file is refused; for another record the
 * log refuses it. Requests under one key are answered one after the other, so the second gets the answer of the first.
 */
export async function answerOnce(request: FastifyRequest, handle: () => Promise<unknown>): Promise<unknown> {
  const principal = principalOf(request);
  const { key, author, sugarhouse } = principal.writeContext;
  if (key === undefined || request.method !== 'POST' || !isApi(request)) return handle();
  // A handler may change the body that it is given.
  const requestHash = hashOfRequest(request);
  return inTurn(JSON.stringify([principal.practice, sugarhouse, author, key]), async () => {
    const stored = await findAnswer(readerOf(principal), { author, key });
    if (stored?.request === requestHash) return repeatedAnswer(stored);
    if (stored && !(await findSent(readerOf(principal), author, key))) return keyUsedRefusal(stored, author);
    const answer = await handle();
    if (!(answer instanceof ApiSaved) || answer.status !== 201) return answer;
    if (answer.isRepeat) return stored ? repeatedAnswer(stored) : answer;
    await storeAnswer(principal, { author, key }, requestHash, answer);
    return answer;
  });
}

const repeatedAnswer = ({ location, body }: KeptAnswer): ApiSaved =>
  new ApiSaved(location, JSON.parse(body) as object, 201, true);

const keyUsedRefusal = ({ sentAt }: KeptAnswer, author: string): Refusal => ({
  problem: { kind: 'key-used', by: author, at: sentAt },
});

/** What was written stays written: an answer that can't be kept, as on a full disk, is made from the log next time. */
async function storeAnswer(
  { book, server, writeContext: { sugarhouse, now } }: Principal,
  idempotency: { readonly author: string; readonly key: string },
  request: string,
  { at, body }: ApiSaved,
): Promise<void> {
  const answer = { request, location: at, body: JSON.stringify(body), sentAt: now.toISOString() };
  try {
    await book.writeHousehold(async (sql) => {
      await dropAnswersBefore(sql, new Date(now.getTime() - answerLifetimeMs).toISOString());
      await keepAnswer(sugarhouseReader(sql, sugarhouse), idempotency, answer);
    });
  } catch (fault) {
    server.log('an answer was not kept', { fault: String(fault) });
  }
}

const answerLifetimeMs = 30 * 24 * 3600 * 1000;

const hashOfRequest = ({ url, body }: FastifyRequest): string =>
  hashOf(JSON.stringify([url, Buffer.isBuffer(body) ? body.toString('base64') : (body ?? null)]));

const pendingByKey = new Map<string, Promise<unknown>>();

async function inTurn<T>(name: string, work: () => Promise<T>): Promise<T> {
  const before = pendingByKey.get(name);
  const own = (before ?? Promise.resolve()).then(work, work);
  pendingByKey.set(name, own);
  try {
    return await own;
  } finally {
    if (pendingByKey.get(name) === own) pendingByKey.delete(name);
  }
}
