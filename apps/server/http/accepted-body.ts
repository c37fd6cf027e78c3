import type { FastifyRequest } from 'fastify';
import { plainDetails, type ProblemDetails } from './problem-details.js';
import type { BodyKind, RouteAccess } from './access.js';

export const fileLimitBytes = 32 * 1024 * 1024;
/** A photo of 20 MB and the form's other fields. */
const photoLimitBytes = 21 * 1024 * 1024;
const usualLimitBytes = 1024 * 1024;
/** Without a key or session: a customer's question or report is far below this. */
const openLimitBytes = 64 * 1024;

export interface AcceptedBody {
  readonly kind: BodyKind;
  readonly limitBytes: number;
}

/** The body a route accepts: as it declares, else JSON under /api and a form elsewhere. */
export function acceptedBody(path: string, config: RouteAccess | undefined): AcceptedBody {
  const kind = config?.takes ?? (path.startsWith('/api/') ? 'json' : 'form');
  if (kind === 'csv' || kind === 'file' || kind === 'bytes') return { kind, limitBytes: fileLimitBytes };
  if (kind === 'photo-form') return { kind, limitBytes: photoLimitBytes };
  return { kind, limitBytes: config?.access === 'anybody' ? openLimitBytes : usualLimitBytes };
}

/**
 * Why a request's body is refused, from its headers alone: rejecting a kind that the route doesn't accept costs
 * nothing, parsing it may cost a lot. A body without a declared length is checked against the same limit while it
 * arrives.
 */
export function bodyRefusal(request: FastifyRequest, { kind, limitBytes }: AcceptedBody): ProblemDetails | undefined {
  const { 'content-type': type, 'content-length': length, 'transfer-encoding': chunked } = request.headers;
  const encoding = request.headers['content-encoding'];
  const isEmpty = chunked === undefined && (length === undefined || Number(length) === 0);
  const accepted = mediaTypes[kind];
  if (type === undefined ? !isEmpty : !accepted.includes(mediaType(type)))
    return plainDetails(415, 'Unsupported content type', `This address accepts only ${accepted.join(' or ')}.`);
  if (isEncoded(encoding))
    return plainDetails(415, 'Unsupported content encoding', 'Send the body uncompressed, without Content-Encoding.');
  // Without a photo it is an ordinary form, read at once into memory.
  if (kind === 'photo-form' && mediaType(type ?? '') === formType) {
    if (chunked !== undefined)
      return plainDetails(411, 'Length required', 'Send the header Content-Length with the form.');
    if (Number(length) > usualLimitBytes) return tooLarge(usualLimitBytes);
  }
  if (Number(length) > limitBytes) return tooLarge(limitBytes);
  return undefined;
}

/** Compressed, say: nothing here unpacks a body, and its bytes must not be read as if they were the text. */
const isEncoded = (encoding: string | undefined): boolean =>
  !['', 'identity'].includes(encoding?.trim().toLowerCase() ?? '');

const tooLarge = (bytes: number): ProblemDetails =>
  plainDetails(413, 'Too large', `What was sent is larger than the ${sizeText(bytes)} that this address accepts.`);

const formType = 'application/x-www-form-urlencoded';

const mediaTypes: Readonly<Record<BodyKind, readonly string[]>> = {
  form: [formType],
  'photo-form': [formType, 'multipart/form-data'],
  json: ['application/json'],
  csv: ['text/csv'],
  file: ['multipart/form-data'],
  bytes: ['application/octet-stream'],
};

const mediaType = (header: string): string => (header.split(';', 1)[0] ?? '').trim().toLowerCase();

/** A size in MiB or KiB, for sentences: `10 MiB`. */
export const sizeText = (bytes: number): string =>
  bytes >= 1024 * 1024 ? `${bytes / (1024 * 1024)} MiB` : `${bytes / 1024} KiB`;
