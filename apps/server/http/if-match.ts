import { invalid, type Refusal } from '#libs/actions/record/problem.js';

/** One entity tag as the server gives them, the number of an entry; quotes may be missing, for shells eat them. */
const tag = /^(?:W\/)?"?(\d{1,15})"?$/;

/**
 * The last entry that the writer has seen, by `If-Match` (RFC 9110, 13.1.1). Of a list it is the highest. Undefined
 * where nothing is asked: no header, or `*`.
 */
export function lastEntrySeen(header: string | undefined): number | undefined {
  const seen = splitTags(header).flatMap((each) => tag.exec(each)?.[1] ?? []);
  return seen.length > 0 ? Math.max(...seen.map(Number)) : undefined;
}

/** A condition that can't be read must not be dropped: the write would go ahead as if it held. */
export function refuseInvalidIfMatch(header: string | undefined): Refusal | undefined {
  if (header === undefined || header.trim() === '*') return undefined;
  const tags = splitTags(header);
  if (tags.length > 0 && tags.every((each) => tag.test(each))) return undefined;
  return invalid('If-Match', 'the ETag of an answer, such as "149", or *', header.slice(0, 60));
}

const splitTags = (header: string | undefined): string[] => (header ?? '').split(',').map((each) => each.trim());
