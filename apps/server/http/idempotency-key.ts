import type { FastifyRequest } from 'fastify';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';

const maxLetters = 200;

/** Ignoring a key that can't be stored could write the same thing twice, so it is refused. */
export function refuseInvalidKey(request: FastifyRequest): Refusal | undefined {
  const key = request.headers['idempotency-key'];
  if (key === undefined) return undefined;
  if (typeof key === 'string' && key.length <= maxLetters && /^[\x21-\x7e]([\x20-\x7e]*[\x21-\x7e])?$/.test(key))
    return undefined;
  return invalid(
    'Idempotency-Key',
    `1 to ${maxLetters} printable ASCII characters`,
    key.length > maxLetters ? `${key.length} characters` : 'others',
  );
}
