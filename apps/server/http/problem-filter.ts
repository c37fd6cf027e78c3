import { isNoSpace } from '#libs/store/connection/no-space.js';
import { type ArgumentsHost, Catch, type ExceptionFilter, HttpException } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Problem } from '#libs/actions/record/problem.js';
import { damageSentence } from '#libs/store/backup/damage.js';
import { isDamage } from '#libs/store/connection/damage-error.js';
import { apiDetails, plainDetails, problemDetails, type ProblemDetails } from './problem-details.js';
import { barePage, barePolicy, escaped } from './bare-page.js';
import { problemPage } from './problem-page.js';
import { Refused } from './refused.js';
import { renderPage } from './render.js';

/** Turns every exception into a response. A bug is logged, and its details are not shown. */
@Catch()
export class ProblemFilter implements ExceptionFilter {
  async catch(fault: unknown, host: ArgumentsHost): Promise<void> {
    const request = host.switchToHttp().getRequest<FastifyRequest>();
    const reply = host.switchToHttp().getResponse<FastifyReply>();
    if (reply.sent) return;
    const damage = await damageDetails(fault, request);
    await sendDetails(
      request,
      reply,
      damage ?? detailsOf(fault, request),
      fault instanceof Refused ? fault.problem : undefined,
    );
  }
}

/** A damaged file is not a bug, and further writes make it worse: the response explains how to restore a backup. */
async function damageDetails(fault: unknown, request: FastifyRequest): Promise<ProblemDetails | undefined> {
  const principal = request.principal as typeof request.principal | undefined;
  if (!isDamage(fault) || !principal || !('file' in principal.book.location)) return undefined;
  const sentence = await damageSentence(principal.book.location.file, (fault as Error).message);
  if (principal.server.damage && !principal.practice) principal.server.damage.found = sentence;
  principal.server.log('damage', { request: request.id, fault: (fault as Error).message });
  // Folder names are shown only to people of the house.
  const detail =
    principal.kind === 'person' ? sentence : 'The file of this book is damaged. Its owner can restore a backup.';
  return plainDetails(503, 'The book is damaged', detail);
}

function detailsOf(fault: unknown, request: FastifyRequest): ProblemDetails {
  if (fault instanceof Refused)
    return isApi(request) ? apiDetails(fault.problem, request) : problemDetails(fault.problem);
  const status = statusOf(fault);
  const text = plainStatus[status];
  if (text) return plainDetails(status, ...text);
  if (status < 500) return plainDetails(status, 'Bad request', (fault as Error).message);
  if (isNoSpace(fault)) return plainDetails(503, 'The disk is full', diskFullText);
  request.principal?.server.log('fault', { request: request.id, fault: stackOf(fault) });
  const opensOnly = request.method === 'GET' || request.method === 'HEAD';
  const unsure = opensOnly ? '' : ' It may not have been saved: check before you send it again.';
  const detail = `The program failed; your request was not at fault.${unsure} The server’s log has details under ${request.id}.`;
  return plainDetails(500, 'A fault of the program', detail);
}

/** Answers with problem details: as JSON under /api, else as a page. */
export async function sendDetails(
  request: FastifyRequest,
  reply: FastifyReply,
  details: ProblemDetails,
  problem?: Problem,
): Promise<void> {
  if (isApi(request)) {
    const body = JSON.stringify({ ...details, requestId: request.id });
    await reply.code(details.status).type('application/problem+json').send(body);
    return;
  }
  // A request under a host name that isn't ours may come from another site's page: it gets no details of the house.
  const page =
    details.status === 421
      ? undefined
      : await renderPage(request, problemPage(details, request.method, problem)).catch(() => undefined);
  if (page === undefined) void reply.header('Content-Security-Policy', barePolicy);
  await reply
    .code(details.status)
    .type('text/html; charset=utf-8')
    .send(page?.bytes ?? fallbackPage(details));
}

/** Whether the request's address is under /api. */
export const isApi = (request: FastifyRequest): boolean => /^\/api(\/|\?|$)/.test(request.url);

function statusOf(fault: unknown): number {
  if (fault instanceof HttpException) return fault.getStatus();
  const status = (fault as { statusCode?: unknown } | null)?.statusCode;
  return typeof status === 'number' && status >= 400 && status < 600 ? status : 500;
}

const diskFullText =
  'The disk is full: nothing was saved. Reading still works. Free some space on the computer that holds the book (empty its trash, move films and photos elsewhere, but change nothing in the book’s own folder), then send it again.';

const stackOf = (fault: unknown): string => (fault instanceof Error ? (fault.stack ?? fault.message) : String(fault));

/** For when even the page can't be drawn. Under a host name that isn't ours it links nowhere. */
const fallbackPage = ({ status, title, detail }: ProblemDetails): string =>
  barePage(escaped(title), [escaped(detail), ...(status === 421 ? [] : ['Go to <a href="/">Today</a>.'])]);

const plainStatus: Readonly<Record<number, readonly [string, string]>> = {
  400: ['Bad request', 'The address or the body of the request is malformed.'],
  403: ['Not allowed for your role', 'Your role does not allow this. Ask the owner.'],
  404: ['Not found', 'There is nothing at this address.'],
  405: ['Method not allowed', 'This address does not accept that method.'],
  413: ['Too large', 'What was sent is larger than this address accepts.'],
  414: ['Address too long', 'The address is too long.'],
  415: ['Unsupported content type', 'This address does not accept this content type.'],
};
