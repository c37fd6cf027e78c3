import type { FastifyRequest } from 'fastify';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import { maxFileBytes } from '#libs/actions/photos/stored-image.js';
import { acceptedBody } from './accepted-body.js';
import type { RouteAccess } from './access.js';

/** A form with thirty readings of four boxes has a hundred and fifty fields. */
const maxFields = 400;
const maxFieldBytes = 100_000;

/**
 * Turns a form with a photo into the body of the same form without one, so that later code sees one kind of form; the
 * photo is attached to the request. A browser without script sends the same.
 */
export async function takePhotoForm(request: FastifyRequest): Promise<Refusal | undefined> {
  const { kind } = acceptedBody(request.routeOptions.url ?? '', request.routeOptions.config as RouteAccess);
  if (kind !== 'photo-form' || !request.isMultipart()) return undefined;
  const body: Record<string, string | string[]> = {};
  try {
    // A file that is too long is read to its end and then refused, so that the typed fields aren't lost.
    const parsing = {
      throwFileSizeLimit: false,
      limits: { files: 1, fields: maxFields, fieldSize: maxFieldBytes, fileSize: maxFileBytes + 1 },
    };
    for await (const part of request.parts(parsing)) {
      if (part.type === 'file') {
        const bytes = await part.toBuffer();
        if (bytes.length > 0) request.photo = bytes;
      } else if (typeof part.value === 'string') {
        const before = body[part.fieldname];
        body[part.fieldname] = before === undefined ? part.value : [before, part.value].flat();
      }
    }
  } catch {
    return invalid(
      'body',
      `a whole form of at most ${maxFields} fields and one photo`,
      'one that is longer or breaks off',
    );
  }
  request.body = body;
  return undefined;
}
