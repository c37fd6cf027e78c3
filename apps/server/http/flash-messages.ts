import type { FastifyReply, FastifyRequest } from 'fastify';

const name = 'boilbook-noted';
const mostLetters = 1500;

/** Messages that the next page shows once, since a write is answered by a redirect. */
export function setFlashMessages(reply: FastifyReply, notes: readonly string[]): void {
  const saved: string[] = [];
  for (const note of notes) if (JSON.stringify([...saved, note]).length <= mostLetters) saved.push(note);
  if (saved.length === 0) return;
  const value = Buffer.from(JSON.stringify(saved)).toString('base64url');
  void reply.setCookie(name, value, { path: '/', httpOnly: true, sameSite: 'lax', maxAge: 120 });
}

/** The messages that the previous response left in its cookie, at most twenty; none where the cookie is unreadable. */
export function messagesIn(request: FastifyRequest): string[] {
  const value = request.cookies?.[name];
  if (value === undefined) return [];
  try {
    const notes: unknown = JSON.parse(Buffer.from(value, 'base64url').toString());
    return Array.isArray(notes) ? notes.filter((each) => typeof each === 'string').slice(0, 20) : [];
  } catch {
    return [];
  }
}

/** Clears the messages once they have been shown. */
export function clearFlashMessages(request: FastifyRequest, reply: FastifyReply): void {
  if (request.cookies?.[name] !== undefined) void reply.clearCookie(name, { path: '/' });
}
