import { randomUUID } from 'node:crypto';
import { seeOther, type SeeOther } from './answers.js';

/**
 * To the page where a write can be seen, with what the writer should hear there. The words stay here and only a
 * number goes along, so that no link can put words into the book's mouth.
 */
export function seeOtherSaying(to: string, words: readonly string[]): SeeOther {
  if (words.length === 0) return seeOther(to);
  const ticket = randomUUID();
  waiting.set(ticket, words);
  if (waiting.size > most) waiting.delete(waiting.keys().next().value ?? '');
  const [path = '', place] = to.split('#');
  return seeOther(`${path}${path.includes('?') ? '&' : '?'}said=${ticket}${place ? `#${place}` : ''}`);
}

export const heard = (ticket: string | undefined): readonly string[] => waiting.get(ticket ?? '') ?? [];

const most = 500;
const waiting = new Map<string, readonly string[]>();
