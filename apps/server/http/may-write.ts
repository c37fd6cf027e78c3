import { ForbiddenException } from '@nestjs/common';
import type { Kind } from '#libs/actions/record/kind.js';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import { rights, rightTo } from '#libs/actions/accounts/rights.js';
import { mayEnter } from './access.js';
import type { Visitor } from './principal.js';

export const mayWrite = (who: Visitor, what: keyof typeof rights): boolean => mayEnter(who.role, rights[what]);

/** Answered with 403 where the role doesn't suffice for this kind: a route may take several, and knows which only now. */
export function demandRight(who: Visitor, kind: Kind, sent: Readonly<Record<string, unknown>> = {}): void {
  if (!mayEnter(who.role, rightTo(kind, sent))) throw new ForbiddenException();
}

/** A helper's record stands under their own initials. A key has none: one of a helper signs for nobody. */
export function signsForAnother(who: Visitor, by: unknown): Refusal | undefined {
  const signed = typeof by === 'string' ? by.trim() : '';
  if (signed === '' || mayWrite(who, 'for another')) return undefined;
  if (signed.toLowerCase() === who.initials.toLowerCase()) return undefined;
  return invalid('by', `${who.initials}, or nothing: only makers sign for somebody else`, `"${signed}"`);
}
