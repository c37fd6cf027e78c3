import { ForbiddenException } from '@nestjs/common';
import type { Kind } from '#libs/actions/record/kind.js';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import { rights, requiredRole, sentText } from '#libs/actions/accounts/rights.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { isAllowed } from './access.js';
import type { Principal } from './principal.js';

/** Whether the principal's role may write this kind of thing; for showing buttons, as the guard checks again. */
export const mayWrite = (principal: Principal, what: keyof typeof rights): boolean =>
  isAllowed(principal.role, rights[what]);

/**
 * Answers 403 if the role is too low to write a record of this kind, or with `adds` to add to one, since a route may
 * accept several kinds. `sent` holds the record's fields.
 */
export function requireRight(
  principal: Principal,
  kind: Kind,
  sent: Readonly<Record<string, unknown>> = {},
  adds = false,
): void {
  if (!isAllowed(principal.role, requiredRole(kind, sent, adds))) throw new ForbiddenException();
}

/** Whether the principal may correct, void or undo records of this kind: as well as that right, the kind's own is needed. */
export const mayCorrect = (principal: Principal, kind: RecordKind): boolean =>
  mayWrite(principal, 'correction') && mayWrite(principal, kind);

/** Answers 403 if the role is too low to correct, void or undo a record of this kind. */
export function requireRightToCorrect(principal: Principal, kind: RecordKind): void {
  // An address may name a kind that doesn't exist: that is answered with 404.
  if (Object.hasOwn(rights, kind) && !mayCorrect(principal, kind)) throw new ForbiddenException();
}

/**
 * A helper's records carry their own initials. A key signs with its name, which is never a person's initials (see
 * `addKey`), so a helper's key can't sign for anyone.
 */
export function refuseForeignInitials(principal: Principal, by: unknown): Refusal | undefined {
  const initials = sentText(by);
  if (initials === '' || mayWrite(principal, 'for another')) return undefined;
  if (initials.toLowerCase() === principal.initials.toLowerCase()) return undefined;
  return invalid('by', `${principal.initials}, or nothing: only makers sign for somebody else`, `"${initials}"`);
}
