import type { FastifyReply, FastifyRequest } from 'fastify';
import { type DocumentProcesses, DocumentFailed } from '../documents/document-processes.js';
import type { DocumentRequest } from '../documents/messages.js';
import { plainDetails } from './problem-details.js';
import { sendDetails } from './problem-filter.js';

interface Turn {
  readonly request: FastifyRequest;
  readonly reply: FastifyReply;
  /** Ends this request's turn in the queue. */
  readonly end: () => void;
}

/** Answers a document's request from a process of its own, and cancels it when the client disconnects. */
export async function makeInProcess(
  documents: DocumentProcesses,
  { request, reply, end }: Turn,
): Promise<FastifyReply> {
  const { answer, cancel } = documents.answer(documentRequest(request), end);
  // A HEAD request reads no body, so its closed connection doesn't mean that the client has gone.
  if (request.method !== 'HEAD') reply.raw.once('close', cancel);
  try {
    const { status, headers, body } = await answer;
    for (const [name, value] of Object.entries(headers)) if (!hopByHopHeaders.has(name)) void reply.header(name, value);
    return await reply.code(status).send(body);
  } catch (fault) {
    if (!(fault instanceof DocumentFailed) || reply.sent) throw fault;
    request.principal.server.log('document not made', { request: request.id, fault: fault.message });
    await sendDetails(request, reply.header('Retry-After', 30), plainDetails(503, 'Document not made', notMadeText));
    return reply;
  }
}

const notMadeText = 'The document could not be made. Nothing in the book was changed. Request it again in a minute.';

/** Hop-by-hop headers between the two processes, not of the response. */
const hopByHopHeaders = new Set(['connection', 'keep-alive', 'transfer-encoding', 'date']);

function documentRequest(request: FastifyRequest): DocumentRequest {
  const { principal, hiddenFields, body, method } = request;
  const { 'content-length': _, 'transfer-encoding': __, connection: ___, ...headers } = request.headers;
  return {
    method: method as DocumentRequest['method'],
    url: request.url,
    headers: headers as DocumentRequest['headers'],
    payload: method === 'POST' ? encodeForm({ ...(body as object), ...hiddenFields }) : undefined,
    address: request.ip,
    practice: principal.practice,
    port: request.socket.localPort ?? principal.server.settings.port,
  };
}

/** A form's fields encoded as a browser does; repeated names stay repeated. */
function encodeForm(fields: Readonly<Record<string, unknown>>): string {
  const pairs = Object.entries(fields).flatMap(([name, value]) =>
    [value].flat().map((each): [string, string] => [name, String(each)]),
  );
  return new URLSearchParams(pairs).toString();
}
