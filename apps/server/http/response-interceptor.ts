import { PassThrough } from 'node:stream';
import { type CallHandler, type ExecutionContext, Injectable, type NestInterceptor } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { from, lastValueFrom, mergeMap, type Observable } from 'rxjs';
import { isRefusal, type Problem } from '#libs/actions/record/problem.js';
import { Download, HtmlPage, ApiSaved, Redirect } from './responses.js';
import { answerOnce } from './first-answer.js';
import { clearFlashMessages, setFlashMessages } from './flash-messages.js';
import { clearUndo, offerUndo } from './undo-offer.js';
import { isForDeviceCache, setDeviceCacheHeaders } from './device-cache.js';
import { compressPage } from './compression.js';
import { isApi } from './problem-filter.js';
import { apiDetails, problemDetails } from './problem-details.js';
import { problemPage } from './problem-page.js';
import { renderPage } from './render.js';

/** Turns a method's result into HTTP: a page, a redirect, a file, JSON, or a problem with its status. */
@Injectable()
export class AnswerInterceptor implements NestInterceptor {
  intercept(context: ExecutionContext, next: CallHandler): Observable<unknown> {
    const request = context.switchToHttp().getRequest<FastifyRequest>();
    const reply = context.switchToHttp().getResponse<FastifyReply>();
    const answers = request.headers['idempotency-key'] === undefined ? next.handle() : from(handleOnce(request, next));
    return answers.pipe(mergeMap((answer) => from(respond(request, reply, answer))));
  }
}

const handleOnce = (request: FastifyRequest, next: CallHandler): Promise<unknown> =>
  answerOnce(request, () => lastValueFrom(next.handle(), { defaultValue: undefined }));

async function respond(request: FastifyRequest, reply: FastifyReply, answer: unknown): Promise<unknown> {
  if (answer instanceof HtmlPage) {
    void reply.code(answer.status).type('text/html; charset=utf-8');
    if (!isForDeviceCache(request)) {
      clearFlashMessages(request, reply);
      clearUndo(request, reply);
    }
    const { bytes, htmlForRequest } = await renderPage(request, answer);
    await setDeviceCacheHeaders(request, reply, htmlForRequest);
    return compressPage(request, reply, bytes);
  }
  if (answer instanceof Redirect) {
    setFlashMessages(reply, answer.notes);
    offerUndo(reply, answer.undo);
    void reply.code(303).header('Location', pathOfOurs(answer.to));
    return '';
  }
  if (answer instanceof ApiSaved) {
    void reply.code(answer.status).header('Location', answer.at);
    setTag(request, reply, answer.body);
    return answer.body;
  }
  if (answer instanceof Download) return sendDownload(request, reply, answer);
  if (isRefusal(answer)) return refusalBody(request, reply, answer.problem);
  // Only a newly created record is 201, which the method declares.
  if (reply.statusCode === 201) void reply.code(200);
  setTag(request, reply, answer);
  return answer;
}

/** The last entry about a record is its version: sent back as If-Match, it detects a write in between. */
function setTag(request: FastifyRequest, reply: FastifyReply, answer: unknown): void {
  const entry = (answer as { readonly entry?: unknown } | null | undefined)?.entry;
  if (isApi(request) && typeof entry === 'number') void reply.header('ETag', `"${entry}"`);
}

/** Never to another site, whatever path a form sent. */
const pathOfOurs = (to: string): string =>
  /^\/(?![/\\])[^\u0000-\u001f\\]*$/.test(to) && isDecodable(to)
    ? // Keep what is already encoded: decoding `%26` in a name would split the query in two.
      encodeURI(to).replace(/%25([0-9A-F]{2})/gi, '%$1')
    : '/';
const isDecodable = (text: string): boolean => {
  try {
    return decodeURI(text) !== '';
  } catch {
    return false;
  }
};

async function refusalBody(request: FastifyRequest, reply: FastifyReply, problem: Problem): Promise<unknown> {
  if (isApi(request))
    return JSON.stringify(setDetails(reply, { ...apiDetails(problem, request), requestId: request.id }));
  const details = problemDetails(problem);
  void reply.code(details.status).type('text/html; charset=utf-8');
  return (await renderPage(request, problemPage(details, request.method, problem))).bytes;
}

function setDetails<T extends { status: number }>(reply: FastifyReply, details: T): T {
  void reply.code(details.status).type('application/problem+json');
  return details;
}

async function sendDownload(request: FastifyRequest, reply: FastifyReply, file: Download): Promise<unknown> {
  const out = new PassThrough();
  const started = new Promise<'started'>((resolve) => out.once('readable', () => resolve('started')));
  const written = file.write(out);
  // A client that disconnects, or a fault after the first bytes, ends the stream; an error can no longer be reported.
  written.catch((fault: unknown) => out.destroy(fault as Error));
  const first = await Promise.race([started, written]);
  if (isRefusal(first)) return refusalBody(request, reply, first.problem);
  const name = file.name.replace(/[^A-Za-z0-9._-]/g, '-');
  void reply
    .type(file.type)
    .header('Content-Disposition', `${file.inline ? 'inline' : 'attachment'}; filename="${name}"`);
  return out;
}
