import type { FastifyReply, FastifyRequest } from 'fastify';

const cookieName = 'boilbook-noted';
const maxLetters = 1500;

/** Messages that the next page shows once, since a write is answered by a redirect. */
export function setFlashMessages(reply: FastifyReply, notes: readonly string[]): void {
  const saved: string[] = [];
  for (const note of notes) if (JSON.stringify([...saved, note]).length <= maxLetters) saved.push(note);
  if (saved.length === 0) return;
  const value = Buffer.from(JSON.stringify(saved)).toString('base64url');
  void reply.setCookie(cookieName, value, { path: '/', httpOnly: true, sameSite: 'lax', maxAge: 120 });
}

/** The messages that the previous response left in its cookie, at most twenty; none where the cookie is unreadable. */
export function messagesIn(request: FastifyRequest): string[] {
  const value = request.cookies?.[cookieName];
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
  if (request.cookies?.[cookieName] !== undefined) void reply.clearCookie(cookieName, { path: '/' });
}
