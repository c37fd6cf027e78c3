import { RouteConfig } from '@nestjs/platform-fastify';
import type { Role } from '#libs/store/household/household.js';

/** Who may use a route: this role or a higher one, or anybody. */
export type Access = Role | 'anybody';

/**
 * The one kind of body that a route reads: a form of our pages, a form that may carry a photo, JSON, a CSV file, a form
 * with a file, or a file as it is.
 */
export type BodyKind = 'form' | 'photo-form' | 'json' | 'csv' | 'file' | 'bytes';

/** The access rules of a route. A route without any can't be used by guests or without signing in (see `accessOf`). */
export interface RouteAccess {
  readonly access?: Access;
  /** On a public route: how many tokens a request takes from the caller's bucket. */
  readonly costs?: number;
  /** It shows or changes the book of every sugarhouse: only for people of the first, whichever book they have open. */
  readonly wholeBook?: boolean;
  /** Also accepted under a host name that isn't on the list: for the links on labels. */
  readonly anyHost?: boolean;
  /** The kind of body it reads, where that is neither JSON under /api nor a form elsewhere (see `acceptedBody`). */
  readonly takes?: BodyKind;
  /** It reads or draws for seconds, though its address doesn't end like a file: it is queued (see `documentQueue`). */
  readonly heavy?: boolean;
  /** It opens or closes a book and writes into none, so a form drawn for any book may be sent to it. */
  readonly anyBook?: boolean;
}

/** Public, with a limited number of requests a minute. */
export const Public = (config: Omit<RouteAccess, 'access'> = {}): MethodDecorator =>
  RouteConfig({ costs: 1, ...config, access: 'anybody' });

/** Only people, keys and links with this role or a higher one: `@RequireRole('helper')`. */
export const RequireRole = (
  role: Role,
  config: Pick<RouteAccess, 'wholeBook' | 'anyBook' | 'takes' | 'heavy'> = {},
): MethodDecorator => RouteConfig({ ...config, access: role });

/** Reading is for every role; writing, unless the route says otherwise, for makers. */
export function accessOf(method: string, config: RouteAccess | undefined): Access {
  return config?.access ?? (['GET', 'HEAD'].includes(method) ? 'guest' : 'maker');
}

const rank: Readonly<Record<Role, number>> = { guest: 1, helper: 2, maker: 3, packer: 4, owner: 5 };

/** Whether `role` (undefined: not signed in) is high enough for `access`. */
export const isAllowed = (role: Role | undefined, access: Access): boolean =>
  access === 'anybody' || (role !== undefined && rank[role] >= rank[access]);
